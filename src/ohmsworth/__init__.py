"""What a milliohm is worth: from readings of a contact to what it does in the circuit."""
