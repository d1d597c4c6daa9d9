"""Pages: what a person reads of an answer, said once; screen, text and paper show the same page."""
