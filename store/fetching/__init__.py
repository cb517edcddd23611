"""The only folder that reaches over a network, and only when a person asks for weather."""
