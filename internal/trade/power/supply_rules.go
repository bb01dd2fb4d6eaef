package power

import "drivewright/internal/base/explain"

var supplyRules = []explain.Rule[Result]{}

var supplyFormulas = []*explain.Formula{}
