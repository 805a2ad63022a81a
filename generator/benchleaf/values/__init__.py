"""Values a technician can stand behind: quantities, torque, resistance, bleed-down, origin."""
