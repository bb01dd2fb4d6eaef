package circuit

import "drivewright/internal/base/explain"

// rating says what to ask for when a device is bought.
func rating(d *Device, set explain.RuleSet) string { return "" }
