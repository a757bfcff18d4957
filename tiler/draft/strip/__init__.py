"""The strip: how wide, how long, how it is shared out along the edge, its ends and its marks; mm."""
