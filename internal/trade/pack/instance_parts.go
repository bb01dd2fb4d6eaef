package pack

// fileParts is what was read so far, before it is known what belongs to what.
type fileParts struct {
	in                           Instance
	task                         string
	taskAt, binAt                int64
	bin                          *fileBin
	first                        map[string]int // item by name
	copies                       []int          // first copy of each item of the file, and at last their number
	nets                         []fileNet
	keepouts, separations, boxes []located
	entries, terminals           map[string][]float64
	itemAt                       []int64
	solid, seenItems             bool
}

type fileBin struct {
	W *int `json:"w"`
	H *int `json:"h"`
	D *int `json:"d"`
}

// fileNet is a net of either form: an object between two pins, or a list of pins.
type fileNet struct {
	at           int64
	A, PA, B, PB string
	Weight       int
	Group        []any
	isGroup      bool
}

// located is a list of values and where it stands in the file.
type located struct {
	at     int64
	values []any
}

// value reads the value of one key.
func (f *fileParts) value(r *reader, key string) error {
	switch key {
	case "name":
		return r.read(&f.in.Name)
	case "task":
		err := r.read(&f.task)
		f.taskAt = r.start
		return err
	case "grid":
		if err := r.read(&f.in.Grid); err != nil {
			return err
		}
		if f.in.Grid < 0 || f.in.Grid > most {
			return r.fail("the grid must lie between 0 and %d", most)
		}
		return nil
	case "bin":
		err := r.read(&f.bin)
		f.binAt = r.start
		return err
	case "items":
		f.seenItems = true
		return r.list(func() error { return f.item(r) })
	case "nets":
		return r.list(func() error { return f.net(r) })
	case "boxes":
		return f.lists(r, &f.boxes)
	case "keepouts":
		return f.lists(r, &f.keepouts)
	case "separations":
		return f.lists(r, &f.separations)
	case "entries":
		return r.read(&f.entries)
	case "terminals":
		return r.read(&f.terminals)
	}
	at := r.dec.InputOffset() - int64(len(key)+2)
	if k := meant(key, instanceKeys); k != "" {
		return r.failAt(at, "there is no %q in an instance; did you mean %q?", key, k)
	}
	var passed any
	return r.read(&passed)
}

// lists reads a list of lists.
func (f *fileParts) lists(r *reader, into *[]located) error {
	return r.list(func() error {
		var values []any
		err := r.read(&values)
		*into = append(*into, located{r.start, values})
		return err
	})
}

// item reads an item, and makes its copies.
func (f *fileParts) item(r *reader) error {
	var it fileItem
	if err := r.read(&it); err != nil {
		return err
	}
	if err := r.itemSlips(r.text[r.start:r.dec.InputOffset()]); err != nil {
		return err
	}
	n := 1
	if it.N != nil {
		n = *it.N
	}
	depth := 1
	if it.D != nil {
		depth, f.solid = *it.D, true
	}
	switch {
	case it.W < 1 || it.H < 1 || depth < 1:
		return r.fail("an item's size must be 1 or more")
	case it.W > most || it.H > most || depth > most:
		return r.fail("an item's size may be %d at most", most)
	case n < 1:
		return r.fail("an item is wanted %d times; it must be 1 or more", n)
	case len(f.in.Items)+n > mostItems:
		return r.fail("more than %d items", mostItems)
	case it.Rail < 0:
		return r.fail("a rail's number can't be negative")
	}
	// The form's air is that of the plate's sides: the known answers count it so for turned items too.
	item := Item{Size: Vec{it.W, it.H, depth}, Rail: it.Rail, AirStays: true}
	if it.Rotate && it.Rail == 0 {
		item.Turns = QuarterTurns
		if it.D != nil {
			item.Turns = AllTurns
		}
	}
	if len(it.Clear) != 0 {
		if len(it.Clear) != 4 {
			return r.fail(`"clear" wants four numbers: left, right, bottom, top`)
		}
		for n, c := range it.Clear {
			if c < 0 || c > most {
				return r.fail(`"clear" must lie between 0 and %d`, most)
			}
			item.Air[n] = c
		}
	}
	if len(it.Fixed) != 0 {
		if len(it.Fixed) != 2 {
			return r.fail(`"fixed" wants two numbers: x and y`)
		}
		for _, v := range it.Fixed {
			if v < 0 || v > most {
				return r.fail(`"fixed" must lie between 0 and %d`, most)
			}
		}
		item.Fixed = &Place{At: Vec{it.Fixed[0], it.Fixed[1], 0}}
	}
	f.copies = append(f.copies, len(f.in.Items))
	f.itemAt = append(f.itemAt, r.start)
	if it.ID != "" {
		if _, twice := f.first[it.ID]; twice {
			return r.fail("two items are named %q", it.ID)
		}
		f.first[it.ID] = len(f.in.Items)
	}
	for range n {
		f.in.Items = append(f.in.Items, item)
	}
	return nil
}

// net reads a net, which is an object or a list of pins.
func (f *fileParts) net(r *reader) error {
	var raw any
	if err := r.read(&raw); err != nil {
		return err
	}
	net := fileNet{at: r.start, Weight: 1}
	switch raw := raw.(type) {
	case []any:
		net.isGroup, net.Group = true, raw
	case map[string]any:
		for key, to := range map[string]*string{"a": &net.A, "pa": &net.PA, "b": &net.B, "pb": &net.PB} {
			if v, there := raw[key]; there {
				text, is := v.(string)
				if !is {
					return r.fail("%q of a net must be a text", key)
				}
				*to = text
			}
		}
		if v, there := raw["weight"]; there {
			w, is := v.(float64)
			if !is || w != float64(int(w)) || w < 0 || w > 1000 {
				return r.fail("a net's weight must be a whole number from 0 to 1000")
			}
			net.Weight = int(w)
		}
	default:
		return r.fail("a net is an object with a and b, or a list of items")
	}
	f.nets = append(f.nets, net)
	return nil
}

// instance puts together what was read.
func (f *fileParts) instance(r *reader) (*Instance, error) {
	in := &f.in
	if !f.seenItems {
		return nil, r.failAt(0, `the file has no "items"`)
	}
	tasks := map[string]Task{"opp": FitRoom, "opp3": FitRoom, "strip": StripTop, "bbox": LeastArea, "box": Plates, "area+hpwl": Floor}
	task, known := tasks[f.task]
	if f.task == "" {
		task, known = FitRoom, true
	}
	if !known {
		return nil, r.failAt(f.taskAt, "task %q isn't known; there are opp, opp3, strip, bbox, box and area+hpwl", f.task)
	}
	if f.task == "opp3" && !f.solid {
		return nil, r.failAt(f.taskAt, `opp3 is in three dimensions, and no item has a depth "d"`)
	}
	in.Task = task
	in.Room = Vec{0, 0, 1}
	if f.bin != nil {
		for axis, side := range []*int{f.bin.W, f.bin.H, f.bin.D} {
			switch {
			case side == nil && axis == 2 && f.solid && task == FitRoom:
				return nil, r.failAt(f.binAt, `the bin has no depth "d", but items have`)
			case side == nil:
			case *side < 1 || *side > most:
				return nil, r.failAt(f.binAt, "the bin's sides must lie between 1 and %d", most)
			default:
				in.Room[axis] = *side
			}
		}
	}
	switch {
	case task == FitRoom && (in.Room[0] == 0 || in.Room[1] == 0):
		return nil, r.failAt(f.binAt, "the task wants a bin with w and h")
	case task == StripTop && in.Room[0] == 0:
		return nil, r.failAt(f.binAt, "the task wants a bin with w")
	case task == Plates && len(f.boxes) == 0 && in.Room[0] == 0:
		return nil, r.failAt(f.binAt, `the task wants "boxes" to choose from, or a bin`)
	case f.solid && task != FitRoom:
		return nil, r.failAt(f.taskAt, "only the tasks opp and opp3 have a depth")
	}
	for _, box := range f.boxes {
		n, err := f.numbers(r, box, 2, "a box is two numbers, width and height", 1)
		if err != nil {
			return nil, err
		}
		in.Rooms = append(in.Rooms, Vec{n[0], n[1], 1})
	}
	for _, k := range f.keepouts {
		n, err := f.numbers(r, k, 4, "a keep-out is four numbers: x, y, width, height", 0)
		if err != nil {
			return nil, err
		}
		in.Blocks = append(in.Blocks, Block{At: Vec{n[0], n[1], 0}, Size: Vec{n[2], n[3], 1}})
	}
	for _, s := range f.separations {
		if len(s.values) != 3 {
			return nil, r.failAt(s.at, "a separation is two items and a distance")
		}
		a, okA := f.itemNamed(s.values[0])
		b, okB := f.itemNamed(s.values[1])
		d, okD := s.values[2].(float64)
		if !okA || !okB || !okD || a == b || d < 0 || d > most || d != float64(int(d)) {
			return nil, r.failAt(s.at, "a separation is two different items that exist, and a distance")
		}
		in.Aparts = append(in.Aparts, Apart{A: a, B: b, Distance: int(d)})
	}
	for _, n := range f.nets {
		if err := f.addNet(r, n); err != nil {
			return nil, err
		}
	}
	return in, nil
}

// numbers reads a list of whole numbers of a settled length.
func (f *fileParts) numbers(r *reader, l located, count int, want string, least int) ([]int, error) {
	if len(l.values) != count {
		return nil, r.failAt(l.at, "%s", want)
	}
	list := make([]int, count)
	for n, v := range l.values {
		x, is := v.(float64)
		if !is || x != float64(int(x)) || x < float64(least) || x > most {
			return nil, r.failAt(l.at, "%s, each whole and between %d and %d", want, least, most)
		}
		list[n] = int(x)
	}
	return list, nil
}

// itemNamed finds an item by its name or by its number in the file.
func (f *fileParts) itemNamed(v any) (int, bool) {
	switch v := v.(type) {
	case string:
		n, known := f.first[v]
		return n, known
	case float64:
		if v == float64(int(v)) && v >= 0 && int(v) < len(f.copies) {
			return f.copies[int(v)], true
		}
	}
	return 0, false
}

// addNet adds a net in the form that the task wants.
func (f *fileParts) addNet(r *reader, n fileNet) error {
	in := &f.in
	if n.isGroup {
		var pins []Pin
		for _, v := range n.Group {
			if name, is := v.(string); is && len(name) > 0 && name[0] == '@' {
				if at, known := f.terminals[name[1:]]; known && len(at) == 2 {
					pins = append(pins, Pin{Item: -1, At: Vec{int(2 * at[0]), int(2 * at[1]), 1}})
				}
				continue // a terminal without a place is left out
			}
			item, known := f.itemNamed(v)
			if !known {
				return r.failAt(n.at, "the net names an item that there isn't")
			}
			pins = append(pins, Pin{Item: item, Centre: true})
		}
		in.Groups = append(in.Groups, pins)
		return nil
	}
	index := len(in.Nets)
	net := Net{Weight: n.Weight}
	for end, name := range []string{n.A, n.B} {
		pin, to := n.PA, &net.A
		if end == 1 {
			pin, to = n.PB, &net.B
		}
		if len(name) > 0 && name[0] == '@' {
			at, known := f.entries[name[1:]]
			if !known || len(at) != 2 || at[0] < 0 || at[0] > 1 || at[1] < 0 || at[1] > 1 {
				return r.failAt(n.at, "the net's entry %q has no place in \"entries\": two fractions from 0 to 1", name)
			}
			in.entries = append(in.entries, entry{net: index, second: end == 1, u: at[0], v: at[1]})
			*to = Pin{Item: -1}
			continue
		}
		item, known := f.itemNamed(name)
		if !known {
			return r.failAt(n.at, "the net names item %q, which there isn't", name)
		}
		size := in.Items[item].Size
		*to = Pin{Item: item}
		switch {
		case in.Items[item].Turns != Unturned || pin == "c" || pin == "":
			to.Centre = true
		case pin == "t":
			to.At = Vec{size[0], 2 * size[1], 1}
		case pin == "b":
			to.At = Vec{size[0], 0, 1}
		default:
			return r.failAt(n.at, "pin %q isn't known; there are t, b and c", pin)
		}
	}
	in.Nets = append(in.Nets, net)
	return nil
}
