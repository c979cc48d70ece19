"""What a person does, one function an act: checked, written under the lock, told in the history."""
