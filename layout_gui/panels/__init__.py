"""Stations, fields, the what-if drawer, findings."""
