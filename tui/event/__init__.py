"""Recording a contamination event."""
