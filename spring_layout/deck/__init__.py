"""The deck: what the user decided, its file, its checks on reading, and its edits."""
