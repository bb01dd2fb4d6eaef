package prove

import "drivewright/internal/trade/circuit"

// command is what a drive's input asks, as a number.
type command uint8

const (
	noCommand command = iota
	runForward
	runReverse
	reverseDirection
	stopCommand
	jogCommand
	stepOne
	stepTwo
	resetCommand
	externalFault
	safeOffOne
	safeOffTwo
)

// commandOf numbers a command.
func commandOf(c circuit.Command) command {
	for n, other := range [...]circuit.Command{circuit.NoCommand, circuit.RunForward, circuit.RunReverse, circuit.ReverseDirection, circuit.StopCommand,
		circuit.JogCommand, circuit.Step1, circuit.Step2, circuit.ResetCommand, circuit.ExternalFault, circuit.SafeOff1, circuit.SafeOff2} {
		if c == other {
			return command(n)
		}
	}
	return noCommand
}

// commands is a set of commands.
type commands uint16

func (c commands) has(one command) bool { return c>>one&1 == 1 }

func (c *commands) put(one command, on bool) {
	if on {
		*c |= 1 << one
	} else {
		*c &^= 1 << one
	}
}

// driveRules is how the drive behaves, ready for the simulation.
type driveRules struct {
	threeWire, powerUp, afterReset bool
	safe                           commands // the safe-off inputs that must be on
	lostBelow                      int16    // of the reference, thousandths; 0 where it can't tell
	lostStops, lostHolds           bool
	speedFrom                      string
	outputs                        []string
}

// Thousandths of full speed where no reference says it: jogging, and a drive whose speed is set at its keypad or over a
// serial line. Both only tell states apart.
const (
	jogSpeed    = 100
	keypadSpeed = 1000
)

func rulesOf(l *circuit.DriveLogic) driveRules {
	r := driveRules{threeWire: l.ThreeWire, powerUp: l.PowerUp, afterReset: l.AfterReset, lostStops: l.LostReference == "stops",
		lostHolds: l.LostReference == "holds the last speed", speedFrom: l.SpeedFrom, outputs: l.Outputs}
	r.safe.put(safeOffOne, l.SafeChannels >= 1)
	r.safe.put(safeOffTwo, l.SafeChannels >= 2)
	return r
}

// driveMemory is what a drive remembers. Its zero value is a drive without power.
type driveMemory struct {
	alive   bool
	fault   bool // tripped: it waits for what clears it
	shorted bool // the fault is at its output: only a reset or a power cycle clears it
	blocked bool // a command that is there must go first: the fresh start
	jogging bool
	ready   bool
	latched int8 // three-wire: 1 forward, -1 backwards
	running int8 // what it does now
	on      commands
	speed   int16
}

// driveSees is what a drive is given in one moment.
type driveSees struct {
	fed       bool
	has       commands
	high, low commands // inputs above their upper and above their lower limit
	reference int16
	motor     motorJoined
}

// step lets the drive act once on what it sees.
func (d *driveMemory) step(r *driveRules, sees *driveSees) {
	if !sees.fed {
		*d = driveMemory{}
		return
	}
	woke, wasReady, before := !d.alive, d.ready, d.on
	d.alive = true
	d.on = sees.high | before&sees.low
	rising := d.on &^ before
	d.watchFaults(sees, rising)
	safe := d.on&r.safe == r.safe
	d.ready = safe && !d.fault
	asked := d.on & (1<<runForward | 1<<runReverse | 1<<jogCommand)
	lost := sees.reference < r.lostBelow && r.speedFrom == "knob"
	if asked != 0 {
		if woke && !r.powerUp || !d.ready && !r.afterReset || lost && r.lostStops && d.running != 0 {
			d.blocked = true
		}
	} else {
		d.blocked = false
	}
	if woke && !r.powerUp {
		rising = 0
	} else if !woke && d.ready && !wasReady && r.afterReset && !d.blocked {
		rising |= asked // a command that is still there counts as a fresh one
	}
	if r.threeWire {
		d.startOnPress(rising)
	} else {
		d.runWhileClosed()
	}
	d.jog(r, rising)
	if lost && r.lostStops {
		d.latched, d.running = 0, 0
	}
	d.setSpeed(r, sees.reference, lost)
}

// watchFaults keeps the fault of the drive.
func (d *driveMemory) watchFaults(sees *driveSees, rising commands) {
	healthy := !sees.has.has(externalFault) || d.on.has(externalFault)
	if sees.motor == outputShorted && (d.running != 0 || d.shorted) {
		d.fault, d.shorted = true, true
		return
	}
	switch {
	case !healthy:
		d.fault = true
	case !d.fault:
	case rising.has(resetCommand) || !sees.has.has(resetCommand) && !d.shorted:
		d.fault, d.shorted = false, false
	}
}

// startOnPress is three-wire logic: it starts when a run input comes on, and stops when the stop input goes off.
func (d *driveMemory) startOnPress(rising commands) {
	switch may := d.ready && d.on.has(stopCommand); {
	case !may:
		d.latched = 0
	case rising.has(runForward) && rising.has(runReverse): // neither
	case rising.has(runForward):
		d.latched = 1
	case rising.has(runReverse):
		d.latched = -1
	}
	d.running = d.latched
}

// runWhileClosed is two-wire logic: it runs while one of its run inputs is on.
func (d *driveMemory) runWhileClosed() {
	d.latched, d.running = 0, 0
	forward, reverse := d.on.has(runForward), d.on.has(runReverse)
	if !d.ready || d.blocked || forward == reverse {
		return
	}
	d.running = 1
	if reverse {
		d.running = -1
	}
}

// jog runs it slowly while the jog input is on, from a press of it, and only from standstill.
func (d *driveMemory) jog(r *driveRules, rising commands) {
	may := d.ready && !d.blocked && (!r.threeWire || d.on.has(stopCommand))
	switch {
	case !may || !d.on.has(jogCommand) || d.running != 0:
		d.jogging = false
	case rising.has(jogCommand):
		d.jogging = true
	}
	if d.jogging {
		d.running = 1
	}
	if d.running != 0 && d.on.has(reverseDirection) {
		d.running = -d.running
	}
}

// setSpeed finds the speed in thousandths.
func (d *driveMemory) setSpeed(r *driveRules, reference int16, lost bool) {
	switch {
	case d.jogging:
		d.speed = jogSpeed
	case r.speedFrom == "knob":
		if !lost || !r.lostHolds {
			d.speed = max(reference, 0)
		}
	case r.speedFrom == "steps":
		n := int16(1)
		if d.on.has(stepOne) {
			n++
		}
		if d.on.has(stepTwo) {
			n += 2
		}
		d.speed = n * 250
	default:
		d.speed = keypadSpeed
	}
}

// gives reports whether the output of the name is on.
func (d *driveMemory) gives(output string) bool {
	switch output {
	case "run":
		return d.running != 0
	case "fault":
		return d.fault
	case "ready":
		return d.ready
	}
	return false
}
