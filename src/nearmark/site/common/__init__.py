"""What every feature uses: time, transactions, forms, answers to requests."""
