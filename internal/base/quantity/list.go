package quantity

import "strings"

// Voltages are the voltages of a nameplate, in the order in which they stand there.
type Voltages []Voltage

// Currents are the currents of a nameplate, in the order of its voltages.
type Currents []Current

// Kind returns KindVoltage.
func (Voltages) Kind() Kind { return KindVoltage }

// Kind returns KindCurrent.
func (Currents) Kind() Kind { return KindCurrent }

// Show prints the list as nameplates do: 230/460 V.
func (l Voltages) Show(s System) string { return showList(l, s) }

// Show prints the list as nameplates do: 13.2/6.6 A.
func (l Currents) Show(s System) string { return showList(l, s) }

func showList[Q Number](list []Q, s System) string {
	var numbers, whole []string
	unit, shared := "", true
	for _, q := range list {
		number, u, _ := strings.Cut(q.Show(s), " ")
		shared = shared && (len(whole) == 0 || u == unit)
		unit = u
		numbers, whole = append(numbers, number), append(whole, q.Show(s))
	}
	if !shared { // 50 mA/1.2 A
		return strings.Join(whole, "/")
	}
	return strings.TrimSpace(strings.Join(numbers, "/") + " " + unit)
}
