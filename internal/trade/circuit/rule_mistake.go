package circuit

import "drivewright/internal/base/explain"

// mistakeRules report what in hand-written devices, wires and cables can't be so.
var mistakeRules = []explain.Rule[Result]{
	mistaken("circuit-by-hand-is-empty", "a circuit by hand without a device", "nothing can be drawn, broken or measured"),
	mistaken("device-without-tag", "a device without a tag", "no wire can go to it and no label can name it"),
	mistaken("device-without-kind", "a device of which nothing says what it is", "its contacts and terminals aren't known, so no wire can end on it"),
	mistaken("device-unreadable", "a device whose contacts or terminals can't be read", "the circuit is judged and drawn without it"),
	mistaken("cable-without-tag", "a cable without a tag", "no wire can be a core of it"),
	mistaken("wire-to-nowhere", "a wire to a device or terminal that there is not", "the wire isn't in the circuit, in the drawing or in the wire list"),
	mistaken("core-of-no-cable", "a wire in a cable that there is not", "it isn't in the core chart of any cable"),
	mistaken("core-used-twice", "two wires in one core", "one of them has no copper"),
	mistaken("drive-terminal-missing", "a control for which the drive has no terminal", "it is on the station and does nothing"),
	mistaken("safe-off-without-input", "safe torque off is asked for and the drive has no terminal for it", "the emergency stop acts on something else than was asked for"),
	mistaken("control-stands-twice", "a control on two stations that can stand on one only", "two of them contradict each other"),
	mistaken("left-out-is-not-there", "something is left out that isn't there", "what was meant is still in the circuit"),
}

// mistaken makes the rule that reports the mistakes of its name.
func mistaken(name, title, why string) explain.Rule[Result] {
	return explain.Rule[Result]{
		Name: name, Title: title, Severity: explain.Must, Sets: explain.Everywhere, Why: why, Source: explain.Practice("a circuit in text: every end named"),
		Check: func(r Result, report *explain.Report) {
			for _, m := range r.Mistakes {
				if m.Rule == name {
					remedy := m.Remedy
					if remedy.Empty() {
						remedy = explain.Say("look at the tags and terminals in the list of devices")
					}
					report.At(m.About, m.Message, remedy)
				}
			}
		},
	}
}
