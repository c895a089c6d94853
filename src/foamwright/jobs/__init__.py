"""The only bridge from files to answers: what command line and page both call."""
