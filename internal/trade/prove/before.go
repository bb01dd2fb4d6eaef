package prove

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/circuit"
)

// before says what is done before the first reading, so that what the meter finds is what was computed. Source: common practice.
func (b *deadBox) before() []string {
	c := b.wiring.Circuit
	list := []string{"Pull the plug, or switch the supply off and lock it; keep the plug or the key with you. Measure that nothing is live at the supply terminals: on a voltage the meter is destroyed, or you are."}
	if sources := b.wiring.Circuit.ByKind(circuit.Incoming); len(sources) > 1 {
		var tags []string
		for _, d := range sources {
			tags = append(tags, d.Tag)
		}
		list = append(list, fmt.Sprintf("There are %d incoming supplies, %s: all of them must be off.", len(sources), named(tags)))
	}
	if feeders := b.feeders(); feeders != nil {
		list = append(list, fmt.Sprintf("What comes hard-wired from the supply isn't joined yet: nothing from it on %s. Where it is joined already: its breaker off and locked, measured dead, and its wires off these terminals again. Through them a meter would read the whole house, where neutral and ground are one.", named(feeders)))
	}
	list = append(list, b.leads()...)
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
	if coils := b.coils(); coils != nil {
		list = append(list, fmt.Sprintf("Coils are reckoned with %s. Where that isn't written by you it is typical: the coil's data sheet, or the coil measured by itself before it is wired, goes before it; write it to the device and print the readings again.", named(coils)))
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

// coils names the coils with the resistance that the readings reckon with.
func (b *deadBox) coils() []string {
	var list []string
	for _, p := range b.wiring.Parts {
		if p.Kind == circuit.Coil && !p.AC {
			list = append(list, b.wiring.Circuit.Devices[p.Device].Tag+" "+p.Ohms.Show(quantity.InchUnits))
		}
	}
	return list
}

// feeders names the terminals in the box on which a hard-wired supply will be joined.
func (b *deadBox) feeders() []string {
	var pins []string
	for n, waits := range b.waits {
		if waits {
			pins = append(pins, b.wiring.Pins[n].String())
		}
	}
	return pins
}

// leads says how long a test lead must be where the terminals of one reading lie at two places. Source: common practice; 10 m of 1 mm² have
// 0.17 ohm, of the thin leads of a meter some ohms.
func (b *deadBox) leads() []string {
	var places []string
	for n := range b.probes {
		p := b.device(n).Place
		if place := b.wiring.Circuit.Place(p); place != nil && place.Kind != circuit.Box && place.Kind != circuit.Door && !slices.Contains(places, p) {
			places = append(places, p)
		}
	}
	if places == nil {
		return nil
	}
	return []string{fmt.Sprintf("Some readings go from the box to %s, or from one of them to another: have a lead of 1 mm² or 18 AWG ready, as long as the longest of the cables, with a clip at each end, and take its own resistance off. Where a switch is held out there, clip both probes on, or have a helper hold it.", named(places))}
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
