"""The job on the site's network: its own authority, paired phones, and what they may do."""
