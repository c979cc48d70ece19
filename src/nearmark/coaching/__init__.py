"""The season: how a pupil reads, where the points go, who decides, what to practise next."""
