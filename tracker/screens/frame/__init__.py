"""What holds the views: the app, the main screen, keys, help, history."""
