"""What a report says on a bell, a tower or a visit, as blocks; paper and pages decide how they look."""
