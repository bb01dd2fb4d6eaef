package job

// MistakeExample returns a small file with the mistake of the kind and the same file put right, as Mistakes names the kinds;
// empty for a kind that can't be shown in print.
func MistakeExample(kind string) (wrong, right string) {
	e := mistakeExamples()[mistake(kind)]
	return e.wrong, e.right
}

type mistakeExample struct{ wrong, right string }

// mistakeExamples leaves out notUTF8: a byte that isn't text can't be printed as text.
func mistakeExamples() map[mistake]mistakeExample {
	return map[mistake]mistakeExample{
		emptyFile:         {"# to be filled in\n", "drivewright: 1\n"},
		notYAML:           {"drivewright: 1\nlathe from the school\n", "drivewright: 1\nnotes: lathe from the school\n"},
		yamlExtra:         {"machine: &lathe\n  kind: lathe\n", "machine:\n  kind: lathe\n"},
		tabIndentation:    {"machine:\n\tkind: lathe\n", "machine:\n  kind: lathe\n"},
		wrongIndentation:  {"machine:\n    kind: lathe\n  duty: 40 %\n", "machine:\n  kind: lathe\n  duty: 40 %\n"},
		missingSpace:      {"supply:\n  breaker:30 A\n", "supply:\n  breaker: 30 A\n"},
		unclosed:          {"motor:\n  lead groups: [[1, 4], [2, 5], [3, 6]\n", "motor:\n  lead groups: [[1, 4], [2, 5], [3, 6]]\n"},
		needsQuotes:       {"machine:\n  name: %lathe\n", "machine:\n  name: '%lathe'\n"},
		swallowed:         {"supply:\n  conductor: #10\n", "supply:\n  conductor: 10 AWG\n"},
		possiblySwallowed: {"machine:\n  name: lathe #2\n", "machine:\n  name: 'lathe #2'\n"},
		unknownKey:        {"supply:\n  votlage: 240 V\n", "supply:\n  voltage: 240 V\n"},
		repeatedKey:       {"supply:\n  voltage: 240 V\n  voltage: 230 V\n", "supply:\n  voltage: 240 V\n"},
		wrongShape:        {"motor: 5 hp\n", "motor:\n  power: 5 hp\n"},
		notAQuantity:      {"motor:\n  power: about five\n", "motor:\n  power: 5 hp\n"},
		missingUnit:       {"supply:\n  breaker: 30\n", "supply:\n  breaker: 30 A\n"},
		wrongUnit:         {"supply:\n  breaker: 30 V\n", "supply:\n  breaker: 30 A\n"},
		outOfRange:        {"motor:\n  service factor: 11\n", "motor:\n  service factor: 1.1\n"},
		notWhole:          {"motor:\n  leads: 9.5\n", "motor:\n  leads: 9\n"},
		tooManyValues:     {"motor:\n  current: 13.2/6/.6/3/.3 A\n", "motor:\n  current: 13.2/6.6/3.3 A\n"},
		notOneOf:          {"machine:\n  kind: lathee\n", "machine:\n  kind: lathe\n"},
		notALeadGroup:     {"motor:\n  lead groups: [[1, 4], [2, X], [3, 6]]\n", "motor:\n  lead groups: [[1, 4], [2, 5], [3, 6]]\n"},
	}
}
