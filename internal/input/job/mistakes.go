package job

import "drivewright/internal/base/explain"

// mistake is the name of a kind of mistake in a job file.
type mistake string

// The kinds of mistake. Mistakes tells each one's title and reason.
const (
	emptyFile         mistake = "empty-file"
	notUTF8           mistake = "not-utf-8"
	notYAML           mistake = "not-yaml"
	yamlExtra         mistake = "yaml-extra"
	tabIndentation    mistake = "tab-indentation"
	wrongIndentation  mistake = "wrong-indentation"
	missingSpace      mistake = "missing-space"
	unclosed          mistake = "unclosed"
	needsQuotes       mistake = "needs-quotes"
	swallowed         mistake = "swallowed-by-comment"
	unknownKey        mistake = "unknown-key"
	repeatedKey       mistake = "repeated-key"
	wrongShape        mistake = "wrong-shape"
	notAQuantity      mistake = "not-a-quantity"
	missingUnit       mistake = "missing-unit"
	wrongUnit         mistake = "wrong-unit"
	outOfRange        mistake = "out-of-range"
	notWhole          mistake = "not-whole"
	tooManyValues     mistake = "too-many-values"
	notOneOf          mistake = "not-one-of"
	notALeadGroup     mistake = "not-a-lead-group"
	possiblySwallowed mistake = "possibly-swallowed"
)

// Mistakes returns what each kind of mistake in a job file is and why it matters, in the order in which a file is read.
func Mistakes() []explain.Paper {
	paper := func(name mistake, title, why string) explain.Paper {
		return explain.Paper{Name: string(name), Title: title, Why: why, Severity: explain.Must, Sets: explain.Everywhere,
			Source: explain.Source{Work: "the job-file format", Edition: "1", Place: "schema/job.schema.json"}}
	}
	yaml := func(name mistake, title, why string) explain.Paper {
		p := paper(name, title, why)
		p.Source = explain.Source{Work: "YAML", Edition: "1.2.2"}
		return p
	}
	doubt := yaml(possiblySwallowed, "the end of a value may have been read as a comment", "a # behind a space begins a remark: a number behind it never reaches the sheet")
	doubt.Severity = explain.Check
	return []explain.Paper{
		paper(emptyFile, "the file holds nothing", "there is nothing to work out"),
		yaml(notUTF8, "the file is not plain UTF-8 text", "signs such as ° and ² come out wrong, and a wrong sign makes a wrong unit"),
		yaml(notYAML, "a line is not a key with a value", "what can't be read is left out of the sheet"),
		paper(yamlExtra, "a part of YAML that job files don't use", "anchors, tags and the like hide what a value is from the next reader"),
		yaml(tabIndentation, "a line is indented with a tab", "a tab has no fixed width, so it isn't clear which section the line belongs to"),
		yaml(wrongIndentation, "a line lines up with nothing above it", "indentation decides which section a value belongs to: a supply voltage must not become a motor voltage"),
		yaml(missingSpace, "a colon without a space behind it", "without the space it is one word, not a key with a value"),
		yaml(unclosed, "a quote or bracket is opened and never closed", "everything behind it would be swallowed"),
		yaml(needsQuotes, "a value that begins with or holds a sign of the file format", "it would be read as something else"),
		yaml(swallowed, "a value was read as a comment", "a # behind a space begins a remark, so the value never reaches the sheet"),
		doubt,
		paper(unknownKey, "a key that the section doesn't have", "a misspelt key would be left out in silence, and the sheet would go on with an assumption"),
		paper(repeatedKey, "a key that is written twice", "two values for one thing: nobody can tell which one is meant"),
		paper(wrongShape, "a section, list or value where another one belongs", "what stands there can't be the value that is asked for"),
		paper(notAQuantity, "a value that is not a number with a unit", "it can't be computed with"),
		paper(missingUnit, "a number without its unit", "30 can be amperes or milliamperes, inches or feet; a guess here is a fire or a scrapped plate"),
		paper(wrongUnit, "a unit that doesn't belong to the quantity", "the value may stand at the wrong key, or the unit is misspelt"),
		paper(outOfRange, "a value outside what the program handles", "mostly a slipped decimal point or a unit a thousand times too large"),
		paper(notWhole, "a count that is not a whole number", "there is no half a motor"),
		paper(tooManyValues, "more values in one line than a nameplate has", "a stroke too many makes one value into two"),
		paper(notOneOf, "a word that is not on the key's list", "the rules look for the listed words; another one would be left out in silence"),
		paper(notALeadGroup, "lead groups that can't be read", "the connection of the motor is worked out from them"),
	}
}
