"""An edge out of a drawing: its curves are shown, one is picked, and stands as an answer in the form."""
