"""What is seen and touched: the bed at scale."""
