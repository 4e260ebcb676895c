"""What is published about crops on floating rafts."""
