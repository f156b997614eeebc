"""What is said of an order in the workshop: pieces, reels, parts, time and price."""
