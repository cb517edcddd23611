"""The tank keeper's year: windows of work and what each station is due."""
