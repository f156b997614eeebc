"""Care for single contacts, and what the shop knows: what is asked, and the answers to it."""
