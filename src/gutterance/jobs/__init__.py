"""The operations on a job that the pages, the API and the commands share. No HTTP here, and no HTML."""
