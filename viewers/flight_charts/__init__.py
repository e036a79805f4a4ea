"""Pictures of flight: functions from the flight estimates to figures in the one look of every plot."""
