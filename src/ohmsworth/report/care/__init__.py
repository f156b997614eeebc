"""What to do with a contact, and what several studies know: answers, sentences, pictures, pages."""
