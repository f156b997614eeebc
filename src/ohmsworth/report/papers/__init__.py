"""What is handed over with a finished cable: its certificate, what a verification says, its label."""
