"""What a job is about apart from its faults: plate, ledger, refrigerant and duties, the day, the past."""
