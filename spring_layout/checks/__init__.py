"""What the program wants to tell the user, one topic a module, with stable codes."""
