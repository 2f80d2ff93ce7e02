"""What a bell, a survey and a finding are: frozen, typed, no input or output."""
