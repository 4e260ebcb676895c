"""From a plan to marks in millimetres, and from marks to pages."""
