"""The sections of the job pack: what each says, from the same rows as the screen has."""
