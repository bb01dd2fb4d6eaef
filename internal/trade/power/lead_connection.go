package power

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/job"
)

// markingSource is where the numbers on the leads are published.
var markingSource = explain.Source{Work: "NEMA MG 1", Place: "part 2, terminal markings; IEC 60034-8 for six leads"}.Remembered()

// The levels that a motor of two voltages can be joined for.
const (
	lowLevel  = "lower voltage"
	highLevel = "higher voltage"
	oneLevel  = "only voltage"
)

var windingChoices = func() []string {
	var names []string
	for _, w := range windings {
		names = append(names, w.name)
	}
	return names
}()

var leadGroups = &explain.Formula{
	Name: "lead-groups", Title: "leads between which an ohmmeter finds continuity, before anything is linked",
	Words: "coils of {winding}, with what is joined inside the motor",
	Inputs: []explain.Parameter{
		{Name: "winding", Kind: quantity.KindText, Help: "number of leads and how they are joined inside", Example: nineStar.name, Choices: windingChoices}},
	Result: quantity.KindText, Source: markingSource,
	Compute: explain.Of1(func(name quantity.Text) (explain.Answer, error) {
		w := findWinding(string(name))
		if w == nil {
			return explain.Answer{}, fmt.Errorf("no winding is named %q", string(name))
		}
		return explain.Is(quantity.Text(groupText(windingPapers()[w.name].groups)))
	}),
}

var windingFromGroups = &explain.Formula{
	Name: "winding-from-groups", Title: "how a motor is wound, from the leads between which an ohmmeter finds continuity",
	Words: "the winding whose coils give {lead groups}",
	Inputs: []explain.Parameter{
		{Name: "lead groups", Kind: quantity.KindText, Help: "leads with continuity between them", Example: "[[1, 4], [2, 5], [3, 6], [7, 8, 9]]"}},
	Result: quantity.KindText, Source: markingSource,
	Compute: func(in []quantity.Value) (explain.Answer, error) {
		groups, err := readGroups(in[0].Show(quantity.InchUnits))
		if err != nil {
			return explain.Answer{}, err
		}
		w, err := windingOf(groups, 0)
		if err != nil {
			return explain.Answer{}, err
		}
		return explain.Is(quantity.Text(w.name))
	},
}

var leadConnection = &explain.Formula{
	Name: "lead-connection", Title: "which leads are joined for a voltage",
	Words: "coils of {winding} joined for the {level}, tried on their network: each gets the same share of the volts",
	Inputs: []explain.Parameter{
		{Name: "winding", Kind: quantity.KindText, Help: "number of leads and how they are joined inside", Example: nineStar.name, Choices: windingChoices},
		{Name: "level", Kind: quantity.KindText, Help: "which of the plate's voltages", Example: lowLevel, Choices: []string{lowLevel, highLevel, oneLevel}},
	},
	Result: quantity.KindText, Source: markingSource,
	Compute: explain.Of2(func(name, level quantity.Text) (explain.Answer, error) {
		w := findWinding(string(name))
		if w == nil {
			return explain.Answer{}, fmt.Errorf("no winding is named %q", string(name))
		}
		joins, err := joinsFor(w, string(level))
		if err != nil {
			return explain.Answer{}, err
		}
		return explain.Is(quantity.Text(joinText(joins)))
	}),
}

// joinsFor returns the links of the winding for a level of its plate's voltages. A nine-lead winding puts its coils in parallel
// or in series; three coils with six ends go in delta or in star.
func joinsFor(w *winding, level string) ([]Join, error) {
	var c connection
	switch {
	case w == &nineStar && level != oneLevel:
		c = connection{parallel: level == lowLevel}
	case w == &nineDelta && level != oneLevel:
		c = connection{parallel: level == lowLevel, delta: true}
	case w == &six && level != oneLevel:
		c = connection{delta: level == lowLevel}
	case w == &sixParts && level != highLevel:
		c = connection{parallel: true}
	case w == &three && level == oneLevel: // they go to the lines as they are
	case w == &twelve:
		return nil, fmt.Errorf("twelve leads can be joined in star or in delta for one and the same voltage: only the diagram on the plate says which")
	default:
		return nil, fmt.Errorf("%s can't be joined for the %s without the plate's own diagram", w.name, level)
	}
	joins := w.links(c)
	if joins == nil {
		return nil, fmt.Errorf("the coils of %s don't balance when joined for the %s", w.name, level)
	}
	return joins, nil
}

// leadSide fills r.Connection. voltage has run.
func leadSide(r *Result) {
	m, c := &r.Job.Motor, &r.Connection
	const windingName, textName = "winding", "connection of the leads"
	if isSinglePhaseMotor(m) {
		c.Problem = explain.Say("a single-phase motor has no three-phase connection")
		c.Winding = explain.Absent[quantity.Text](windingName, c.Problem)
		c.Text = explain.Absent[quantity.Text](textName, c.Problem)
		return
	}
	if severalSpeeds(m) {
		// The link tables are those of motors of one speed; the same marks mean other coils on a motor of two.
		why := explain.Say("a motor of several speeds is joined by its own diagram: only the leads of the winding that stays go to the drive")
		c.Groups = m.Groups.Value
		c.Winding = absentFrom[quantity.Text](windingName, why, m.Speeds)
		c.Text = absentFrom[quantity.Text](textName, why, m.Speeds)
		return
	}
	w, from, problem := identify(m)
	if !problem.Empty() {
		c.Problem = problem
		c.Groups = m.Groups.Value
		c.Winding = absentFrom[quantity.Text](windingName, problem, from)
		c.Text = absentFrom[quantity.Text](textName, problem, from)
		return
	}
	if w == nil && r.Voltage.Meaning.OK() {
		if p := countContradicts(m, r.Voltage.Meaning.Value); !p.Empty() {
			c.Problem = p
			c.Winding = absentFrom[quantity.Text](windingName, p, m.Leads)
			c.Text = absentFrom[quantity.Text](textName, p, m.Leads)
			return
		}
	}
	if w == nil {
		needs := explain.Say("needs " + m.Groups.Name + ": nothing is linked yet, find which leads have continuity")
		if m.Leads.Set && m.Leads.Value == 9 {
			needs = explain.Say("nine leads come as star or as delta, and are linked differently: needs " + m.Groups.Name)
		}
		c.Winding = absentFrom[quantity.Text](windingName, needs, m.Groups)
		c.Text = absentFrom[quantity.Text](textName, needs, m.Groups)
		return
	}
	c.Groups = windingPapers()[w.name].groups
	c.Readings = windingPapers()[w.name].readings
	if m.Groups.Set && m.Marked.Value != "no" {
		c.Winding = explain.Derive[quantity.Text](windingFromGroups, windingName, m.Groups)
	} else {
		words := "by the number of leads: {"
		if m.Groups.Set { // their numbers mean nothing where the leads aren't marked, their sizes do
			words = "by the sizes of the groups: {"
		}
		c.Winding = explain.Chosen(windingName, quantity.Text(w.name), words+from.Why().Name+"}", markingSource, from)
	}
	joinLeads(r, w)
}

// countContradicts says how the number of leads contradicts the plate's voltages; empty if it doesn't.
func countContradicts(m *job.Motor, meaning quantity.Text) explain.Phrase {
	switch {
	case m.Leads.Value == 9 && meaning == starDelta:
		return explain.Say("the plate's {} is star and delta, which takes six or twelve leads, and nine come out", plateVolts(m))
	case m.Leads.Value == 6 && meaning == seriesParallel:
		return explain.Say("the plate's {} is series and parallel, which takes nine or twelve leads, and six come out", plateVolts(m))
	}
	return explain.Phrase{}
}

// absentFrom returns a missing value that points at the given value it would need.
func absentFrom[V quantity.Value](name string, why explain.Phrase, from explain.Because) explain.Known[V] {
	k := explain.Absent[V](name, why)
	if from != nil {
		k.Why().Inputs = []explain.Input{{As: from.Why().Name, Reason: from.Why()}}
	}
	return k
}

// identify returns the winding that the ohmmeter's groups, or failing those the number of leads, tell of; nil when more must
// be known; or what is wrong. from is the value that told.
func identify(m *job.Motor) (w *winding, from explain.Because, problem explain.Phrase) {
	if m.Groups.Set {
		count := 0
		if m.Leads.Set {
			count = int(m.Leads.Value)
		}
		if m.Marked.Set && m.Marked.Value == "no" {
			w, err := shapeOf(m.Groups.Value, count)
			if err != nil {
				return nil, m.Groups, explain.Say(err.Error())
			}
			return w, m.Groups, explain.Phrase{}
		}
		w, err := windingOf(m.Groups.Value, count)
		if err != nil {
			return nil, m.Groups, explain.Say(err.Error())
		}
		return w, m.Groups, explain.Phrase{}
	}
	if !m.Leads.Set {
		return nil, m.Leads, explain.Phrase{}
	}
	switch m.Leads.Value {
	case 3:
		return &three, m.Leads, explain.Phrase{}
	case 6, 9:
		return nil, m.Leads, explain.Phrase{}
	case 12:
		return &twelve, m.Leads, explain.Phrase{}
	case 2, 4, 5:
		return nil, m.Leads, explain.Say("a three-phase motor has 3, 6, 9 or 12 leads, not {}: is it a single-phase motor, or are leads cut off in the box", m.Leads.Value)
	}
	return nil, m.Leads, explain.Say("a three-phase motor of one speed has 3, 6, 9 or 12 leads, not {}: look for thermal-switch or brake leads among them", m.Leads.Value)
}

// readGroups reads groups as the job file writes them, or as "1-4, 2-5, 3-6, 7-8-9".
func readGroups(text string) ([][]int, error) {
	var groups [][]int
	bracketed := strings.Contains(text, "[")
	text = strings.NewReplacer("[[", "", "]]", "", "], [", ";", "],[", ";").Replace(text)
	outer, inner := ";", ","
	if !bracketed {
		outer, inner = ",", "-"
	}
	for _, part := range strings.Split(text, outer) {
		var group []int
		for _, lead := range strings.Split(part, inner) {
			var n int
			if _, err := fmt.Sscan(strings.TrimSpace(lead), &n); err != nil {
				return nil, fmt.Errorf("%q is not a lead number", strings.TrimSpace(lead))
			}
			group = append(group, n)
		}
		groups = append(groups, group)
	}
	return groups, nil
}

// windingOf returns the winding that gives exactly these groups of marked leads; count is the number of leads that come out,
// zero if not known. The error says why no winding can.
func windingOf(found [][]int, count int) (*winding, error) {
	groups, err := soundGroups(found, count)
	if err != nil {
		return nil, err
	}
	for _, w := range windings {
		if equalGroups(groups, sortedGroups(windingPapers()[w.name].groups)) {
			return w, nil
		}
	}
	shape, err := shapeOf(found, count)
	if err != nil {
		return nil, err
	}
	return nil, fmt.Errorf("the groups have the shape of %s, whose leads read %s: a tag sits on the wrong lead, or the marking is another maker's own; check each lead again, and if the readings stand treat the leads as unmarked",
		shape.name, groupText(windingPapers()[shape.name].groups))
}

// soundGroups returns the groups in rising order, or why they can't be readings of one motor.
func soundGroups(found [][]int, count int) ([][]int, error) {
	groups := sortedGroups(found)
	if len(groups) == 0 {
		return nil, fmt.Errorf("no group is written: give the leads that have continuity with one another, such as [[1, 4], [2, 5], [3, 6], [7, 8, 9]]")
	}
	seen := map[int]bool{}
	total := 0
	for _, g := range groups {
		for _, lead := range g {
			if lead < 1 || lead > 12 {
				return nil, fmt.Errorf("lead %d: leads are numbered 1 to 12", lead)
			}
			if seen[lead] {
				return nil, fmt.Errorf("lead %d is written twice: a lead belongs to one group", lead)
			}
			seen[lead] = true
			total++
		}
		if len(g) == 1 {
			return nil, fmt.Errorf("lead %d has continuity with nothing: its coil is open, or the meter made no contact; scrape the end bright and read again", g[0])
		}
	}
	if count > 0 && total != count {
		return nil, fmt.Errorf("the groups name %d leads, but %d come out: every lead must be in a group", total, count)
	}
	return groups, nil
}

// shapeOf returns a winding whose groups have the same sizes as those found, whatever the numbers.
func shapeOf(found [][]int, count int) (*winding, error) {
	groups, err := soundGroups(found, count)
	if err != nil {
		return nil, err
	}
	sizes := groupSizes(groups)
	for _, w := range windings {
		if slices.Equal(sizes, groupSizes(windingPapers()[w.name].groups)) {
			return w, nil
		}
	}
	total := 0
	for _, s := range sizes {
		total += s
	}
	switch {
	case len(groups) == 1 && total == 6:
		return nil, fmt.Errorf("six leads all in one group are one winding tapped for two speeds: it is joined by the diagram on its own plate, for one speed and for good")
	case total == 7:
		return nil, fmt.Errorf("a group of three and two pairs make seven leads: a nine-lead star has three pairs and one group of three, so a pair is missing")
	case total == 9:
		return nil, fmt.Errorf("nine leads read as three pairs and a group of three (star) or as three groups of three (delta), not as groups of %s: two coils touch, a coil is open, or leads are still linked", sizesText(sizes))
	case total == 12:
		return nil, fmt.Errorf("twelve leads read as six pairs, not as groups of %s: coils touch, a coil is open, or leads are still linked", sizesText(sizes))
	case total == 6:
		return nil, fmt.Errorf("six leads read as three pairs or as two groups of three, not as groups of %s: coils touch, a coil is open, or leads are still linked", sizesText(sizes))
	}
	return nil, fmt.Errorf("no three-phase winding gives groups of %s: 3, 6, 9 or 12 leads come out of a motor, in pairs and groups of three", sizesText(sizes))
}

func sizesText(sizes []int) string {
	var words []string
	for _, s := range sizes {
		words = append(words, strconv.Itoa(s))
	}
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

func groupSizes(groups [][]int) []int {
	var sizes []int
	for _, g := range groups {
		sizes = append(sizes, len(g))
	}
	slices.Sort(sizes)
	return sizes
}

// sortedGroups returns the groups with their leads, and themselves, in rising order.
func sortedGroups(groups [][]int) [][]int {
	var sorted [][]int
	for _, g := range groups {
		if len(g) > 0 {
			sorted = append(sorted, slices.Sorted(slices.Values(g)))
		}
	}
	slices.SortFunc(sorted, func(a, b []int) int { return cmp.Compare(a[0], b[0]) })
	return sorted
}

func equalGroups(a, b [][]int) bool { return slices.EqualFunc(a, b, slices.Equal) }

// groupText prints groups as a fitter writes them: 1-4, 2-5, 3-6, 7-8-9.
func groupText(groups [][]int) string {
	var words []string
	for _, g := range groups {
		var leads []string
		for _, lead := range g {
			leads = append(leads, leadName(lead))
		}
		words = append(words, strings.Join(leads, "-"))
	}
	return strings.Join(words, ", ")
}

// joinText prints joints in words: L1 to 1 and 7; L2 to 2 and 8; L3 to 3 and 9; join 4, 5 and 6.
func joinText(joins []Join) string {
	var words []string
	for _, j := range joins {
		leads := j.Leads[len(j.Leads)-1]
		if n := len(j.Leads); n > 1 {
			leads = strings.Join(j.Leads[:n-1], ", ") + " and " + leads
		}
		if j.Line == "" {
			words = append(words, "join "+leads)
		} else {
			words = append(words, j.Line+" to "+leads)
		}
	}
	return strings.Join(words, "; ")
}
