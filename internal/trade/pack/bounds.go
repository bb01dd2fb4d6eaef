package pack

import "fmt"

// bound returns why the items can't all fit by the sum of their areas (or volumes) alone, or "".
func (t *task) bound() string {
	room, items := 1, 0
	for axis := range 3 {
		room *= t.p.Room[axis]
	}
	for _, it := range t.p.Items {
		items += it.Size[0] * it.Size[1] * it.Size[2]
	}
	if items > room {
		return fmt.Sprintf("the items' bodies take %d, the room has %d", items, room)
	}
	return ""
}
