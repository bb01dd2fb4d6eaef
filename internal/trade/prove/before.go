package prove

import (
	"fmt"
	"strings"

	"drivewright/internal/trade/circuit"
)

// before says what is done before the first reading, so that what the meter finds is what was computed. Source: common practice.
func (b *deadBox) before() []string {
	c := b.wiring.Circuit
	list := []string{"Pull the plug, or switch the supply off and lock it; keep the plug or the key with you. Measure that nothing is live at the supply terminals: on a voltage the meter is destroyed, or you are."}
	if foreign := b.tags(func(d *circuit.Device) bool { return d.Kind == circuit.Incoming }); len(foreign) > 1 {
		list = append(list, fmt.Sprintf("There are %d incoming supplies, %s: all of them must be off.", len(foreign), named(foreign)))
	}
	if drives := b.tags(func(d *circuit.Device) bool { return d.Kind == circuit.Drive }); drives != nil {
		list = append(list, fmt.Sprintf("If drive %s ever had power: wait as long as its label says, then measure its supply and link terminals with a voltmeter; go on only below the voltage that the box's own warning label names, 50 V where there is none.", named(drives)))
		for _, tag := range drives {
			list = append(list, fmt.Sprintf("Pull the control terminals of %s off with their wires on, and put the probes on their screws: behind them an ohmmeter would read the drive's electronics. If they don't pull off, take their wires out and clamp them in a spare strip in the same order. The supply and motor wires stay on.", tag))
		}
	}
	if loads := b.tags(func(d *circuit.Device) bool { return d.Kind == circuit.Load }); loads != nil {
		list = append(list, fmt.Sprintf("Unplug %s, or take the leads to it off: nobody knows what it reads. The probes go on the terminals where the circuit's wires end.", named(loads)))
	}
	if lamps := b.tags(func(d *circuit.Device) bool { return d.Kind == circuit.Lamp }); lamps != nil {
		list = append(list, fmt.Sprintf("%s: taken as with light-emitting diodes, which an ohmmeter sees as open. A filament bulb reads some ohms: take it out.", upperFirst(plural(lamps, "lamp", "lamps"))))
	}
	if fed := b.tags(func(d *circuit.Device) bool { return d.Kind == circuit.PowerSupply || d.Kind == circuit.Readout }); fed != nil {
		list = append(list, fmt.Sprintf("%s, and the drive's supply and motor side, stay connected. Across them anything above the stated value is right; wait until the figure stands, because their capacitors fill.", named(fed)))
	}
	if b.diodes != nil {
		list = append(list, fmt.Sprintf("Red probe on the first terminal, black on the second, as written: the other way round diode %s could conduct.", named(b.tags(func(d *circuit.Device) bool { return d.Kind == circuit.Diode }))))
	}
	if relays := b.tags(coiled); relays != nil {
		list = append(list, fmt.Sprintf("Where a reading asks for %s pulled in: press the armature or the test lever by hand.", named(relays)))
	}
	var rest []string
	if fuses := b.tags(func(d *circuit.Device) bool { return d.Kind == circuit.Fuse }); fuses != nil {
		rest = append(rest, plural(fuses, "fuse", "fuses")+" in")
	}
	for n, d := range b.devices {
		if len(d.positions) > 1 && !d.relay && !d.held && !d.pulled && c.Devices[n].Kind != circuit.Fuse {
			rest = append(rest, c.Devices[n].Tag+" "+d.positions[0])
		}
	}
	if rest != nil {
		list = append(list, "Put every switch to rest: "+strings.Join(rest, ", ")+".")
	}
	return append(list, "Hold the probes together and read the leads: with more than 0.5 ohm clean the tips or take other leads. Keep fingers off the tips: they read as some 100 kohm.")
}

// tags returns the tags of the devices that a wire goes to and that are of the kind.
func (b *deadBox) tags(is func(*circuit.Device) bool) []string {
	wired := map[string]bool{}
	for _, n := range b.probes {
		wired[b.wiring.Pins[n].Device] = true
	}
	var list []string
	for n := range b.wiring.Circuit.Devices {
		if d := &b.wiring.Circuit.Devices[n]; wired[d.Tag] && is(d) {
			list = append(list, d.Tag)
		}
	}
	return list
}

// pulledPins returns the wired terminals behind which the device is unplugged.
func (b *deadBox) pulledPins() []circuit.Pin {
	pulled := b.pulledNodes()
	var list []circuit.Pin
	for _, n := range b.probes {
		p := b.wiring.Pins[n]
		d := b.wiring.Circuit.Device(p.Device)
		if pulled[n] || d.Kind == circuit.Load && !b.grounded(p) {
			list = append(list, p)
		}
	}
	return list
}

// upperFirst begins a sentence.
func upperFirst(text string) string { return strings.ToUpper(text[:1]) + text[1:] }
