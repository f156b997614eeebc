"""Pages of the lot that a study is about: its plan and verdict, what is stated of it, and its papers."""
