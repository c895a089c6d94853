"""The builder's questions, one file each."""
