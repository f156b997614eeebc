"""What a report says: sentences, tables and figure data, without a drop of HTML."""
