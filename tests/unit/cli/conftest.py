"""What a verb is run with; see `one_verb`."""

from one_verb import job_file, run, stands

__all__ = ["job_file", "run", "stands"]
