"""A pattern PDF of somebody else: what it holds, what joining keeps and loses, and our pages inside it."""
