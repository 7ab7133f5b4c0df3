"""The printing conditions that come with hotfolder: profiles, and where each comes from (`presses.toml`)."""
