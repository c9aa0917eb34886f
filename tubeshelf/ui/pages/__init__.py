"""The pages of the window, each composed of parts."""
