"""What `vulture` finds no use of in `tracker/` though it is used: each group says by what.

Read by vulture alone, never imported. What nobody calls but tests is dead, and is taken out.
"""

# Views of the screen: frame/main_screen.py makes the class of a view's code
_.MorningView, _.PathView, _.CostView, _.RezoningView, _.TradesView, _.PermitsView
_.ChangesView, _.DrawsView, _.SlipView

# Textual reads or calls these
_.COMMANDS, _.SCOPED_CSS, _.select_on_focus, _.virtual_size, _.parameters
_._fatal_error, _._get_renders

# SQLModel makes a table of the class and a column of the field; CLASSES makes all of them
_.SnapshotContentRow, _.CLASSES, _.file_version, _.first_change

# Python itself: the module's own lookup, and how dataclasses mark a field
_.__getattr__, _._field_type

# Columns of the project's table: read by the column's name
_.existing_use, _.proposed_use, _.jurisdiction

# Keys of an answer's JSON: answers/as_json.py writes every field of the frozen value
_.adopted_edition, _.budget_cents, _.cost_line_name, _.forecast_per_gross_sf_cents
_.forecast_per_rentable_sf_cents, _.from_equity_cents, _.moves_cents, _.pays_days
_.p10, _.p20, _.p30, _.p40, _.p50, _.p60, _.p70, _.p80, _.p90
_.rule_checked_on, _.rule_old, _.rule_source, _.rule_text_as_of, _.since_what, _.threshold_bp
_.referendum_ends, _.old_days_late, _.old_start, _.old_finish, _.new_start, _.new_finish

_.last_waiver, _.from_line, _.to_line, _.still_free_sf, _.before_hearing, _.without_contract

# Fields of what an action or a rule gives back, which its tests ask
_.own_days, _.own_cost_cents, _.drawn_before, _.design_contingency, _.construction_contingency
