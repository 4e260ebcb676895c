"""Rafts: how a bed is split into boards that fit and float freely."""
