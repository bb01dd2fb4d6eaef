package box

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"drivewright/internal/base/quantity"
	"drivewright/internal/trade/pack"
)

// show prints a length in the job's units.
func (b *Brief) show(l quantity.Length) string {
	if b.Job.Units.Set && string(b.Job.Units.Value) == quantity.MetricUnits.String() {
		return l.Show(quantity.MetricUnits)
	}
	return l.Show(quantity.InchUnits)
}

// plainBound says why the room can't hold everything where one figure shows it: a part that is too deep, too wide or too high by
// itself, or parts with more area than the plate has. It is "" where no such figure is found.
func (b *Brief) plainBound(room *Room) string {
	if !room.Before.OK() || room.Before.Value <= 0 {
		return "there is no depth left before its plate"
	}
	t := 2 * b.Sheet().Value
	if room.PlateWidth.Value > room.Width.Value-t || room.PlateHeight.Value > room.Height.Value-t {
		return fmt.Sprintf("its plate, %s × %s, doesn't go into it: between its walls there are %s × %s", b.show(room.PlateHeight.Value), b.show(room.PlateWidth.Value), b.show(room.Height.Value-t), b.show(room.Width.Value-t))
	}
	f := b.frame(room)
	area := 0.0
	for n := range b.Bodies {
		d := &b.Bodies[n]
		if d.On != Plate && d.On != Door {
			continue
		}
		if need := d.Depth.Value + d.Front.Value; need > room.Before.Value+tenth {
			what := fmt.Sprintf("%s, %s, is %s deep", d.Tag, d.Name, b.show(d.Depth.Value))
			if d.Front.Value > 0 {
				what += fmt.Sprintf(" and wants %s before it, %s together", b.show(d.Front.Value), b.show(need))
			}
			return fmt.Sprintf("%s; from plate to door there are %s", what, b.show(room.Before.Value))
		}
		if d.On == Plate {
			area += float64(d.Width.Value) * float64(d.Height.Value)
		}
		it := b.single(n)
		if why := b.tooLong(&f, n, &it, room); why != "" {
			return why
		}
	}
	if plate := float64(room.PlateWidth.Value) * float64(room.PlateHeight.Value); area > plate {
		return fmt.Sprintf("the parts on the plate cover %s without their air; the plate has %s", b.showArea(area), b.showArea(plate))
	}
	return ""
}

func (b *Brief) showArea(a float64) string {
	if b.Job.Units.Set && string(b.Job.Units.Value) == quantity.MetricUnits.String() {
		return quantity.Area(a).Show(quantity.MetricUnits)
	}
	return quantity.Area(a).Show(quantity.InchUnits)
}

// tooLong says why a part has no place by itself in width or height.
func (b *Brief) tooLong(f *frame, n int, it *item, room *Room) string {
	d := &b.Bodies[n]
	if d.Spot != nil {
		return ""
	}
	from, to := b.limits(f, it, false)
	words := [2]string{"wide", "high"}
	for axis := range 2 {
		if from[axis] <= to[axis] {
			continue
		}
		plate := room.PlateWidth.Value
		if axis == 1 {
			plate = room.PlateHeight.Value
		}
		size := d.Width.Value
		if axis == 1 {
			size = d.Height.Value
		}
		if it.turns {
			size = min(d.Width.Value, d.Height.Value)
		}
		if d.On == Door {
			return fmt.Sprintf("%s, %s, is too %s for the door within its rims", d.Tag, d.Name, words[axis])
		}
		if size > plate {
			return fmt.Sprintf("%s, %s, is %s %s; the plate is %s", d.Tag, d.Name, b.show(size), words[axis], b.show(plate))
		}
		inner := f.in.high[axis] - f.in.low[axis]
		air := [2]quantity.Length{d.Sides.Value, d.Sides.Value}
		if axis == 1 {
			air = [2]quantity.Length{max(d.Below.Value, d.Bend.Value), max(d.Above.Value, d.Bend.Value)}
		}
		return fmt.Sprintf("%s, %s, is %s %s and wants %s and %s of air, %s together; between the walls there are %s", d.Tag, d.Name, b.show(size), words[axis], b.show(air[0]), b.show(air[1]), b.show(size+air[0]+air[1]), b.show(inner))
	}
	return ""
}

var itemNumber = regexp.MustCompile(`item (\d+)`)

// inWords puts the tags of the parts into the words of a packing proof.
func (b *Brief) inWords(why string, items []item) string {
	return itemNumber.ReplaceAllStringFunc(why, func(m string) string {
		k, err := strconv.Atoi(strings.TrimPrefix(m, "item "))
		if err != nil || k >= len(items) {
			return m
		}
		return b.named(&items[k])
	})
}

// named names an item by the tags of what is in it.
func (b *Brief) named(it *item) string {
	var tags []string
	for _, n := range it.bodies {
		tags = append(tags, b.Bodies[n].Tag)
	}
	return strings.Join(tags, ", ")
}

// swingAir is the room beside a door device that its inner edge needs when the door turns: it moves on a circle around the hinge, and
// goes further out than it stood.
func (b *Brief) swingAir(f *frame, it *item) (air [6]int) {
	depth := float64(it.size[2])
	margin := float64(tenths(doorMargin))
	reach := func(size int) int { return swept(margin+float64(size), depth) }
	switch b.Hinge() {
	case "left":
		air[pack.Right] = reach(it.size[0])
	case "right":
		air[pack.Left] = reach(it.size[0])
	case "top":
		air[pack.Bottom] = reach(it.size[1])
	case "bottom":
		air[pack.Top] = reach(it.size[1])
	}
	return air
}
