"""Weather files in every known form, read into days."""
