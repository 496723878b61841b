"""What a progression makes possible: overview, advice, comparison, a brief for authors, a preview for listeners."""
