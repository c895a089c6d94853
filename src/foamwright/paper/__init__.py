"""What goes on paper: drawings as text, from plain records."""
