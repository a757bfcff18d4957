"""What the words of a file must be, made from the same templates as its pages, in the language of the file."""
