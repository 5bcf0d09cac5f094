"""What was made and which balls were turned, kept as files in one folder beside the job file."""
