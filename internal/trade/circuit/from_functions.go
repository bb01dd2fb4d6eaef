package circuit

import (
	"fmt"
	"slices"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// fromFunctions makes devices, wires and cables of what the controls must do. First it names the potentials and says which
// pins lie on each (nets); then it lays wires, terminals and cables (cables.go). In the order of the work: the power path,
// the control supply, run and stop, emergency stop, speed, indication, loads, bonds.
func fromFunctions(r *Result) {
	m := newMaker(r)
	m.planPosts()
	m.incoming()
	m.controlSupply()
	m.driveAndMotor()
	m.run()
	m.section = emergencyNets
	m.emergencyStop()
	m.feedDrive()
	m.section = speedNets
	m.speed()
	m.section = otherNets
	m.indication()
	m.loads()
	m.lay()
	m.bonds()
}

// maker makes one circuit.
type maker struct {
	r       *Result
	c       *Circuit
	job     *job.Job
	pick    *Choices
	set     explain.RuleSet
	tags    map[string]int // how many tags begin with these letters
	nets    []*net
	section terminalGroup // of the potentials that are being made
	post    []post
	door    string // the name of the place that is the box's door
	row     []Screw

	// The drive: its tag, and its terminals by what they do.
	drive string
	// lines are the supply's conductors, from the switch on; neutral is that of a supply that also has two lines, nil without.
	ahead, lines []*net
	neutral      *net
	toDrive      []*net // the lines as they come to the drive, behind device and contactor

	// hot and common are the control supply's; feed is what a contact joins the drive's inputs to; zero is the drive's 0 V.
	// driveHot is the drive's own 24 V, nil without.
	hot, common, feed, zero, driveHot *net
	running                           *net                // the control voltage behind the drive's run relay; nil until something needs it
	emergency                         map[string][]Device // by post
	cables                            []cableKey          // what the circuit's cables are for, in their order
	supplies                          map[string]bool     // places of incoming supplies
	ground                            []Pin               // what gets a wire from the ground bar, in order
	groundWhy                         map[Pin]explain.Known[quantity.Text]
}

// terminalGroup is a group of potentials that stand side by side on the terminal block. An empty terminal keeps two groups apart:
// neighbours that touch then can't bridge a stop contact or press Start.
type terminalGroup int

const (
	supplyNets terminalGroup = iota
	stopNets
	startNets
	emergencyNets
	speedNets
	otherNets
)

// net is one potential: the pins that lie on it.
type net struct {
	number  string // "" until it is numbered, for a control potential
	does    string // in words
	pins    []Pin
	why     explain.Known[quantity.Text]
	mains   bool // has its field terminals on the block of the mains
	section terminalGroup
	direct  bool // goes from device to device without a terminal between
	size    explain.Known[quantity.Conductor]
	// taps are the pins that take little of what the potential carries, such as the fuse of a control supply, each with the size of its
	// own wire: the heavy conductors go past them.
	taps   map[Pin]explain.Known[quantity.Conductor]
	inputs []explain.Because
}

func newMaker(r *Result) *maker {
	m := &maker{r: r, c: &r.Circuit, job: r.Job, pick: &r.Choices, set: r.Brief.Set, tags: map[string]int{},
		groundWhy: map[Pin]explain.Known[quantity.Text]{}}
	m.row = screws(r.Job, r.Side.channels())
	m.drive = m.tag(Drive)
	m.emergency, m.supplies = map[string][]Device{}, map[string]bool{"supply": true}
	return m
}

// new begins a potential.
func (m *maker) new(does string, why ...explain.Because) *net {
	n := &net{does: does, inputs: why, section: m.section}
	m.nets = append(m.nets, n)
	return n
}

// on puts pins on the potential.
func (n *net) on(pins ...Pin) *net {
	n.pins = append(n.pins, pins...)
	return n
}

// add makes a device and says why it is there. The spec's own tag, if it has one, is kept.
func (m *maker) add(kind Kind, s Spec, why ...explain.Because) *Device {
	if s.Tag == "" {
		s.Tag = m.tag(kind)
	}
	if s.Place == "" {
		s.Place = "box"
	}
	if s.Role == "" {
		s.Role = NoRole
	}
	d, err := NewDevice(kind, s)
	if err != nil {
		m.r.mistake("device-unreadable", because(why), fmt.Sprintf("device %s: %v", s.Tag, err), "write the device by hand")
	}
	return m.put(d, why...)
}

// put adds a device that is made already.
func (m *maker) put(d Device, why ...explain.Because) *Device {
	d.Why = explain.Chosen("device "+d.Tag, quantity.Text(d.Words), "made for what the controls must do", madeHere, why...)
	m.c.Devices = append(m.c.Devices, d)
	return &m.c.Devices[len(m.c.Devices)-1]
}

var madeHere = explain.Practice("circuit made from the functions")

// because is the first of several reasons; a reason that is missing where there is none.
func because(why []explain.Because) explain.Because {
	if len(why) > 0 {
		return why[0]
	}
	return explain.Known[quantity.Text]{}
}

// through leads the potential through contacts in series, each between two pins, and returns the potential behind the last.
func (m *maker) through(n *net, contacts [][2]Pin, does string, why ...explain.Because) *net {
	for _, c := range contacts {
		n.on(c[0])
		n = m.new(does, why...).on(c[1])
	}
	return n
}

// screw returns the drive's terminal with the duty; ok is false where there is none.
func (m *maker) screw(does string) (p Pin, ok bool) {
	n := slices.IndexFunc(m.row, func(s Screw) bool { return s.Does == does })
	if n < 0 {
		return Pin{}, false
	}
	return Pin{m.drive, m.row[n].Name}, true
}

// wanted reports a function that the drive has no terminal for.
func (m *maker) wanted(about explain.Because, function, terminal string) {
	m.r.mistake("drive-terminal-missing", about, fmt.Sprintf("the controls ask for %s, but no terminal of the drive is set to: %s", function, terminal),
		"set a free input of the drive to it and write it among the drive terminals, or leave the function out")
}

// givenOf returns the given value under a name that tells it from those of the other items of its list.
func givenOf[V any](g job.Given[V], whose string) job.Given[V] {
	if whose != "" {
		g.Name += ", " + whose
	}
	return g
}
