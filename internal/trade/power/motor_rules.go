package power

import "drivewright/internal/base/explain"

var motorRules = []explain.Rule[Result]{}

var motorFormulas = []*explain.Formula{}
