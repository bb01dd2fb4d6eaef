package drawing

import (
	"fmt"
	"strconv"
	"strings"
	"testing"
)

// connections are the joints that the standard lead markings ask for, as practitioners' tables give them. Source: NEMA MG 1,
// part 2 (from memory): 9-lead star 230/460 V: low 1+7, 2+8, 3+9, 4+5+6; high 1, 2, 3, 4+7, 5+8, 6+9; 9-lead delta: low
// 1+6+7, 2+4+8, 3+5+9; 6-lead: star 4+5+6, delta 1+6, 2+4, 3+5; 12-lead: as 9-lead with the inner ends outside.
func connections() map[string]Leads {
	all := map[string]Leads{}
	for name, c := range map[string]struct {
		leads  int
		delta  bool
		joints string
	}{
		"3 star":                {3, false, "L1:1 L2:2 L3:3"},
		"3 delta":               {3, true, "L1:1 L2:2 L3:3"},
		"6 star":                {6, false, "L1:1 L2:2 L3:3 :4,5,6"},
		"6 delta":               {6, false, "L1:1,6 L2:2,4 L3:3,5"},
		"9 star low":            {9, false, "L1:1,7 L2:2,8 L3:3,9 :4,5,6"},
		"9 star high":           {9, false, "L1:1 L2:2 L3:3 :4,7 :5,8 :6,9"},
		"9 delta low":           {9, true, "L1:1,6,7 L2:2,4,8 L3:3,5,9"},
		"9 delta high":          {9, true, "L1:1 L2:2 L3:3 :4,7 :5,8 :6,9"},
		"12 star high":          {12, false, "L1:1 L2:2 L3:3 :4,7 :5,8 :6,9 :10,11,12"},
		"12 star low":           {12, false, "L1:1,7 L2:2,8 L3:3,9 :4,5,6 :10,11,12"},
		"12 star low one point": {12, false, "L1:1,7 L2:2,8 L3:3,9 :4,5,6,10,11,12"},
		"12 delta low":          {12, false, "L1:1,6,7,12 L2:2,4,8,10 L3:3,5,9,11"},
		"12 delta high":         {12, false, "L1:1,12 L2:2,10 L3:3,11 :4,7 :5,8 :6,9"},
	} {
		l := Leads{ID: "leads", Title: name, Alt: name, Coils: numberedCoils(c.leads, c.delta)}
		for part := range strings.FieldsSeq(c.joints) {
			line, marks, _ := strings.Cut(part, ":")
			l.Joints = append(l.Joints, Joint{line, strings.Split(marks, ",")})
		}
		for _, narrow := range []bool{false, true} {
			l.Narrow = narrow
			all[fmt.Sprintf("%s narrow=%v", name, narrow)] = l
		}
	}
	return all
}

func TestEveryConnectionHasAPicture(t *testing.T) {
	for name, l := range connections() {
		f := LeadLinks(l)
		checkClear(t, name, f)
		if most := map[bool]float64{false: 174, true: 92}[l.Narrow]; f.Width > most {
			t.Errorf("%s is %.0f mm wide, more than %.0f", name, f.Width, most)
		}
		p, ok := coilPicture(l)
		if !ok {
			t.Errorf("%s: the joints make no star and no delta of the coils", name)
			continue
		}
		want := "star"
		if strings.Contains(name, "delta") {
			want = "delta"
		}
		said := p.items[len(p.items)-1].(Words).Text
		if !strings.Contains(said, want) || strings.Contains(name, "low") != strings.Contains(said, "two "+want) || strings.Contains(name, "high") != strings.Contains(said, "series") {
			t.Errorf("%s is called %q", name, said)
		}
	}
}

// Each lead's mark stands in the terminal box, and each end of a coil that has a mark stands in the picture.
func TestEveryLeadIsShown(t *testing.T) {
	for name, l := range connections() {
		count := map[string]int{}
		for _, item := range LeadLinks(l).Items {
			if w, ok := item.(Words); ok {
				count[w.Text]++
			}
		}
		for _, j := range l.Joints {
			for _, mark := range j.Leads {
				if count[mark] < 2 {
					t.Errorf("%s: lead %s is shown %d times, want once in the box and once at a coil", name, mark, count[mark])
				}
			}
		}
	}
}

// Joints that short a coil or leave one out get no picture of a sound winding: T1 to T4, T2 to T5, T3 to T6 joins the two ends
// of a coil.
func TestAWrongConnectionIsNotPaintedAsRight(t *testing.T) {
	for name, joints := range map[string][]Joint{
		"coil shorted":  {{"L1", []string{"1", "4"}}, {"L2", []string{"2", "5"}}, {"L3", []string{"3", "6"}}, {"", []string{"7", "8", "9"}}},
		"lead left out": {{"L1", []string{"1", "7"}}, {"L2", []string{"2", "8"}}, {"L3", []string{"3", "9"}}, {"", []string{"4", "5"}}},
		"two lines":     {{"L1", []string{"1", "7"}}, {"L2", []string{"2", "8"}}},
	} {
		if _, ok := coilPicture(Leads{Joints: joints, Coils: numberedCoils(9, false)}); ok {
			t.Errorf("%s: painted as a sound winding", name)
		}
	}
}

func TestLeadPictureIsAsBefore(t *testing.T) {
	golden(t, "leads-9-star-low", LeadLinks(connections()["9 star low narrow=false"]))
}

// numberedCoils returns the coils of a motor with 3, 6, 9 or 12 leads marked T1 upwards by the number alone, for a star or
// a delta; nil for any other count. With 9 leads a star has the inner ends of the second halves joined inside, and a delta
// has each of the first three leads on two coils.
// Source: NEMA MG 1, part 2, terminal markings (from memory).
func numberedCoils(leads int, delta bool) []Coil {
	mark := func(n int) string { return strconv.Itoa(n) }
	var coils []Coil
	switch leads {
	case 3:
		for n := range 3 {
			if delta {
				coils = append(coils, Coil{mark(n + 1), mark((n+1)%3 + 1)})
			} else {
				coils = append(coils, Coil{mark(n + 1), ""})
			}
		}
	case 6, 9, 12:
		for n := range 3 {
			coils = append(coils, Coil{mark(n + 1), mark(n + 4)})
		}
		for n := range 3 {
			switch {
			case leads == 12:
				coils = append(coils, Coil{mark(n + 7), mark(n + 10)})
			case leads == 9 && !delta:
				coils = append(coils, Coil{mark(n + 7), ""})
			case leads == 9:
				coils = append(coils, Coil{mark(n + 7), mark((n+1)%3 + 1)})
			}
		}
	}
	return coils
}
