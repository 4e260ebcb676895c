"""The crop's flow: stages, batches, and where each raft stands on which day.

Days are whole numbers, counted from any day one likes; what they are called is said elsewhere.
"""
