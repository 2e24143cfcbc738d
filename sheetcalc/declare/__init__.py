"""What a quantity is: its declaration, its Excel text and its source."""
