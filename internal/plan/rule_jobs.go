package plan

import (
	"embed"
	"io/fs"
	"regexp"
)

// The jobs that show each rule at work are test data and manual at once: the tests hold the rule to them, the command that
// explains a rule prints them.
//
//go:embed testdata/rules/*/*.job.yaml
var ruleJobs embed.FS

// expectation is the mark in a tripping job by which the tests know where the rule must speak, with the blanks before it.
var expectation = regexp.MustCompile(`(?m)[ \t]*# want(-whole)? ".*"[ \t]*$`)

// RuleJobs returns a job that trips the rule and a like one that doesn't; nil for a rule that has none, as the mistakes of
// the file format have not.
func RuleJobs(rule string) (trips, quiet []byte) {
	trips, err := fs.ReadFile(ruleJobs, "testdata/rules/"+rule+"/trips.job.yaml")
	if err != nil {
		return nil, nil
	}
	quiet, err = fs.ReadFile(ruleJobs, "testdata/rules/"+rule+"/clean.job.yaml")
	if err != nil {
		return nil, nil
	}
	return expectation.ReplaceAll(trips, nil), quiet
}
