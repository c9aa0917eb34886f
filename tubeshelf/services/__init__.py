"""One module per bench job: keyword-only functions in, frozen views and a Changes out."""
