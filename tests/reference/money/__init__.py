"""Money against published forms, statutes and worked examples."""
