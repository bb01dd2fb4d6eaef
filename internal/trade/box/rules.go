package box

import "drivewright/internal/base/explain"

// Rules returns the rules of the arrangement, in the order of the sheet.
func Rules() []explain.Rule[Result] {
	return nil
}
