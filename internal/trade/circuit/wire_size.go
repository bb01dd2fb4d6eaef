package circuit

import (
	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
)

// wireFor is the size of a wire behind a fuse.
func (m *maker) wireFor(rating explain.Known[quantity.Current]) explain.Known[quantity.Conductor] {
	return explain.Known[quantity.Conductor]{}
}
