"""How sure the opening is: trials over the plan with ranges, calendars and meeting gates."""
