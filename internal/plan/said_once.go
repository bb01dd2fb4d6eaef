package plan

import (
	"slices"

	"drivewright/internal/base/explain"
)

// tracedAs names, for rules on what the simulation shows of a whole circuit, the rules that find the same danger by tracing the
// circuit or reading the job. Those point at the written line, so they speak; what the simulation saw stands beside them. It speaks
// itself where none of them has found anything.
var tracedAs = map[string][]string{
	"restarts-when-the-supply-returns": {"run-on-power-up-with-a-lasting-run-command", "restarts-by-itself-after-a-power-cut", "run-input-bridged"},
	"starts-when-a-stop-is-taken-back": {"restarts-when-the-stop-is-let-go", "restarts-when-the-emergency-stop-is-released", "restarts-when-guard-or-foot-brake-is-let-go",
		"reset-starts-the-machine", "starts-when-a-fault-is-reset"},
	"runs-on-after-a-stop": {"stop-does-not-stop", "emergency-stop-does-not-stop", "guard-or-foot-brake-does-not-stop", "stop-in-parallel-with-a-stop"},
	"circuit-does-not-run": {"device-unreadable", "device-without-tag", "device-without-kind", "device-tag-used-twice", "wire-to-nowhere", "wire-name-used-twice",
		"start-does-nothing", "run-not-held"},
}

// saidOnce moves what the simulation showed beside the finding that says the same already.
func saidOnce(found []explain.Finding) []explain.Finding {
	var kept, told []explain.Finding
	for _, f := range found {
		if sameAs(found, f.Rule) < 0 {
			kept = append(kept, f)
		} else {
			told = append(told, f)
		}
	}
	for _, f := range told {
		other := &kept[sameAs(kept, f.Rule)]
		other.Related = append(slices.Clone(other.Related), explain.Related{Message: f.Message})
	}
	return kept
}

// sameAs returns which finding says what the rule says, by the first of the rules named for it; -1 if none does.
func sameAs(found []explain.Finding, rule string) int {
	for _, name := range tracedAs[rule] {
		if n := slices.IndexFunc(found, func(f explain.Finding) bool { return f.Rule == name }); n >= 0 {
			return n
		}
	}
	return -1
}
