package prove

// causeWords are what broke, in the words under which a report puts faults of one kind together.
var causeWords = map[sort]string{
	wireSort: "a wire comes off", bondSort: "a ground wire comes off", openSort: "a contact doesn't close", weldedSort: "a contact doesn't open",
	mainSwitchSort: "a pole of the main switch doesn't open", wrongTypeSort: "a contact of the wrong type is fitted", stillSort: "a button, switch or relay jams",
	deadCoilSort: "a coil burns out", deadLampSort: "a lamp burns out", deadSupplySort: "a supply fails", deadLoadSort: "a load burns out",
	knobOpenSort: "the speed knob wears out", turnedSort: "a part is in the wrong way round", neighbourSort: "neighbouring terminals touch",
	coreSort: "cores of one cable touch", screenSort: "a core touches its screen", groundSort: "a wire touches grounded metal",
}

// Cause says in words what sort of thing broke: the same for all faults that have one cause.
func (f Fault) Cause() string { return causeWords[f.sort] }
