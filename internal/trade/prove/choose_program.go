package prove

import (
	"math"
	"slices"
)

// program is the linear program of a cover: as few columns as possible, every row held at least once, each column taken in any
// part from nought up. Its least sum bounds every cover. Rounding cuts raise the bound: whatever sum of rows is divided by a
// number, whole covers hold it with every figure rounded up. Branch and bound does the rest.
//
// It is kept as a dictionary, which says what each basic variable is in terms of those that are nought, and solved by the dual
// simplex method, which takes a new row without beginning anew. Cuts are read off a fractional row of the dictionary. Source: V.
// Chvatal, "Linear programming" (1983), chapters 2, 10; R. E. Gomory, Bulletin of the AMS 64 (1958), from memory.
//
// The dictionary is of rounded figures, but nothing that is said to be proved hangs on it: cuts are made of whole numbers, and a bound
// is worked out from the multipliers by themselves, of which any that aren't negative give one.
type program struct {
	columns int
	own     int          // how many rows are the question's own
	rows    []programRow // what must hold: those, cuts and what a branch fixed
	// The dictionary: basic[i] = rhs[i] + sum of at[i][j] · beyond[j], and the sum to be least = value + sum of cost[j] · beyond[j].
	basic, beyond []int // variables: a column, or columns + the row whose surplus it is
	rhs           []float64
	at            [][]float64
	cost          []float64
	value         float64
	fixed         []int8 // of each column: -1 open, else what a branch fixed it to
	work          *int
}

// programRow says that the sum of the columns' figures must be at least its bound.
type programRow struct {
	figures []int32 // by column
	least   int32
	branch  bool // it fixes a column: it isn't true of every cover
}

const tiny = 1e-9

// program answers a question by linear programming; chosen is a cover and bound a bound known before.
func (c *cover) program(q question, chosen []int, bound int) ([]int, int) {
	p := &program{columns: len(q.columns), work: c.work}
	place := make([]int, c.rows)
	for n := range place {
		place[n] = -1
	}
	for n, r := range q.rows {
		place[r] = n
		p.rows = append(p.rows, programRow{figures: make([]int32, p.columns), least: 1})
		p.basic = append(p.basic, p.columns+n)
		p.rhs = append(p.rhs, -1)
		p.at = append(p.at, make([]float64, p.columns))
	}
	for n, k := range q.columns {
		p.beyond, p.cost, p.fixed = append(p.beyond, n), append(p.cost, 1), append(p.fixed, -1)
		c.sets[k].each(func(r int) {
			if place[r] >= 0 {
				p.rows[place[r]].figures[n] = 1
				p.at[place[r]][n] = 1
			}
		})
	}
	p.own = len(p.rows)
	s := &search{cover: c, question: q, best: chosen, bound: bound}
	s.root(p)
	return s.best, s.bound
}

// search is branch and bound over programs.
type search struct {
	cover    *cover
	question question
	best     []int
	bound    int
}

// Rounds of cuts at the root, and in a branch; cuts in a round.
const (
	rootRounds   = 4
	branchRounds = 2
	roundCuts    = 8
)

// root solves the whole, with cuts, and branches where that leaves a gap.
func (s *search) root(p *program) {
	least, open := s.node(p, rootRounds)
	s.bound = max(s.bound, min(least, len(s.best)))
	if s.bound >= len(s.best) || !open {
		return
	}
	if least, whole := s.branch(p, least); whole {
		s.bound = max(s.bound, min(least, len(s.best)))
	}
}

// node solves a program with rounds of cuts. least is the fewest columns that a cover of it can have; open says whether
// it may hold a better one than the best.
func (s *search) node(p *program, rounds int) (least int, open bool) {
	for round := 0; ; round++ {
		switch p.solve() {
		case impossible:
			return math.MaxInt, false
		case givenUp:
			return max(least, p.proved()), true
		case solved:
		}
		least = max(least, p.proved())
		if least >= len(s.best) {
			return least, false
		}
		x := p.values()
		if cover, whole := s.taken(x); whole {
			if len(cover) < len(s.best) {
				s.best = cover
			}
			return max(least, len(cover)), false
		}
		if round < 3 || round%8 == 0 {
			s.greedy(p)
		}
		if round >= rounds || *p.work <= 0 || !p.cut(x) {
			return least, least < len(s.best)
		}
	}
}

// taken returns the columns that are taken whole; whole is false where one is taken in part.
func (s *search) taken(x []float64) (cover []int, whole bool) {
	for n, v := range x {
		if v > 1e-6 && v < 1-1e-6 {
			return nil, false
		}
		if v >= 0.5 {
			cover = append(cover, s.question.columns[n])
		}
	}
	return cover, true
}

// greedy looks for a better cover, led by what the program holds each row to be worth.
func (s *search) greedy(p *program) {
	weights := make([]float64, s.cover.rows)
	for j, v := range p.beyond {
		if n := v - p.columns; n >= 0 && n < len(s.question.rows) {
			weights[s.question.rows[n]] = max(0, p.cost[j])
		}
	}
	if better := s.cover.greedy(s.question, weights); len(better) < len(s.best) {
		s.best = better
	}
}

// branch tries the column that is nearest to a half taken, and then left. It returns the fewest columns of any cover of the program,
// and whether it came to the end of its work with that.
func (s *search) branch(p *program, known int) (least int, whole bool) {
	if *p.work <= 0 {
		return known, false
	}
	column, nearest := -1, 1.0
	for n, v := range p.values() {
		if d := math.Abs(v - 0.5); v > 1e-6 && v < 1-1e-6 && d < nearest-1e-9 {
			column, nearest = n, d
		}
	}
	if column < 0 {
		return known, false
	}
	least, whole = math.MaxInt, true
	for _, to := range []int8{1, 0} {
		side := p.clone()
		side.fix(column, to)
		fewest, open := s.node(side, branchRounds)
		if open {
			var all bool
			fewest, all = s.branch(side, fewest)
			whole = whole && all
		}
		least = min(least, fewest)
	}
	return max(least, known), whole
}

// clone copies the program; rows are shared, as they never change.
func (p *program) clone() *program {
	c := *p
	c.rows, c.basic, c.beyond, c.rhs, c.cost, c.fixed = slices.Clone(p.rows), slices.Clone(p.basic), slices.Clone(p.beyond), slices.Clone(p.rhs), slices.Clone(p.cost), slices.Clone(p.fixed)
	c.at = make([][]float64, len(p.at))
	flat := make([]float64, len(p.at)*p.columns)
	for i := range p.at {
		c.at[i] = flat[i*p.columns : (i+1)*p.columns : (i+1)*p.columns]
		copy(c.at[i], p.at[i])
	}
	*p.work -= len(flat) / 4
	return &c
}

// fix adds the row that fixes a column to nought or one.
func (p *program) fix(column int, to int8) {
	p.fixed[column] = to
	r := programRow{figures: make([]int32, p.columns), branch: true}
	r.figures[column] = -1
	if to == 1 {
		r.figures[column], r.least = 1, 1
	}
	p.add(r)
}

// add adds a row to the dictionary.
func (p *program) add(r programRow) {
	at := make([]float64, p.columns)
	rhs := -float64(r.least)
	for j, v := range p.beyond {
		if v < p.columns {
			at[j] += float64(r.figures[v])
		}
	}
	for i, v := range p.basic {
		if v >= p.columns || r.figures[v] == 0 {
			continue
		}
		f := float64(r.figures[v])
		rhs += float64(f * p.rhs[i])
		for j, a := range p.at[i] {
			at[j] += float64(f * a)
		}
	}
	*p.work -= len(p.basic) * p.columns / 8
	p.basic = append(p.basic, p.columns+len(p.rows))
	p.rows = append(p.rows, r)
	p.rhs, p.at = append(p.rhs, rhs), append(p.at, at)
}

// programEnd is what became of solving a program.
type programEnd int

const (
	solved     programEnd = iota
	impossible            // no cover keeps all rows
	givenUp               // the work is used up, or the figures are too rough to tell
)

// solve makes every basic variable at least nought again, keeping the costs so: the dual simplex method.
func (p *program) solve() programEnd {
	for {
		row, worst := -1, -1e-7
		for i, v := range p.rhs {
			if v < worst {
				row, worst = i, v
			}
		}
		if row < 0 {
			return solved
		}
		column, ratio := -1, math.Inf(1)
		for j, a := range p.at[row] {
			if a <= tiny*10 {
				continue
			}
			switch r := p.cost[j] / a; {
			case r < ratio-tiny:
				column, ratio = j, r
			case column >= 0 && r < ratio+tiny && (a > p.at[row][column]+tiny || a > p.at[row][column]-tiny && p.beyond[j] < p.beyond[column]):
				column, ratio = j, min(r, ratio)
			}
		}
		switch {
		case column < 0 && worst < -1e-4:
			return impossible
		case column < 0 || *p.work <= 0:
			return givenUp
		}
		p.pivot(row, column)
	}
}

// pivot exchanges the basic variable of a row with the one beyond of a column.
func (p *program) pivot(row, column int) {
	r := p.at[row]
	d := 1 / r[column]
	for j := range r {
		r[j] *= -d
	}
	r[column] = d
	p.rhs[row] *= -d
	in := make([]int, 0, p.columns) // where the row has anything
	for j, a := range r {
		if math.Abs(a) > 1e-12 {
			in = append(in, j)
		} else {
			r[j] = 0
		}
	}
	change := func(at []float64, rhs *float64) {
		f := at[column]
		if math.Abs(f) < 1e-12 {
			at[column] = 0
			return
		}
		at[column] = 0
		for _, j := range in {
			at[j] += float64(f * r[j])
		}
		*rhs += float64(f * p.rhs[row])
	}
	for i := range p.at {
		if i != row && p.at[i][column] != 0 {
			change(p.at[i], &p.rhs[i])
			*p.work -= len(in)
		}
	}
	change(p.cost, &p.value)
	*p.work -= p.columns + len(p.at)
	p.basic[row], p.beyond[column] = p.beyond[column], p.basic[row]
}

// values returns what part of each column is taken.
func (p *program) values() []float64 {
	x := make([]float64, p.columns)
	for i, v := range p.basic {
		if v < p.columns {
			x[v] = p.rhs[i]
		}
	}
	return x
}

// proved returns a number of columns that no cover of the program can beat. With any multipliers y ≥ 0 the rows give
//
//	sum of x ≥ sum of y · least + sum over columns of (1 - sum of y · figures) · x
//
// where x is 0 or 1, or what the branch fixed it to; so the last sum is no less than its negative terms.
func (p *program) proved() int {
	total := 0.0
	left := make([]float64, p.columns)
	for n := range left {
		left[n] = 1
	}
	for j, v := range p.beyond {
		n := v - p.columns
		if n < 0 || p.cost[j] <= tiny || p.rows[n].branch {
			continue
		}
		y := p.cost[j]
		total += float64(y * float64(p.rows[n].least))
		for k, f := range p.rows[n].figures {
			if f != 0 {
				left[k] -= float64(y * float64(f))
			}
		}
	}
	for n, v := range left {
		switch {
		case p.fixed[n] == 1:
			total += v
		case p.fixed[n] < 0 && v < 0:
			total += v
		}
	}
	return int(math.Ceil(total - 1e-6))
}

// grain is what multipliers of a cut are whole parts of: it has the divisors up to 12, so that halves, thirds, … come out exactly.
const grain = 27720

// cut adds the rounding cuts that the present values break most, and drops those that no longer matter. It returns false where there
// is none.
func (p *program) cut(x []float64) bool {
	p.dropLoose()
	type found struct {
		row     programRow
		breaks  float64
		support int
	}
	var cuts []found
	for i := range p.basic {
		part := p.rhs[i] - math.Floor(p.rhs[i])
		if part < 0.02 || part > 0.98 {
			continue
		}
		r, ok := p.rounded(i)
		if !ok {
			continue
		}
		sum, support := -float64(r.least), 0
		norm := 0.0
		for n, f := range r.figures {
			if f != 0 {
				sum += float64(float64(f) * x[n])
				support++
				norm += float64(f) * float64(f)
			}
		}
		if sum < -0.01 {
			cuts = append(cuts, found{r, -sum / math.Sqrt(norm), support})
		}
	}
	slices.SortStableFunc(cuts, func(a, b found) int {
		switch {
		case a.breaks > b.breaks+tiny:
			return -1
		case a.breaks < b.breaks-tiny:
			return 1
		}
		return a.support - b.support
	})
	added := 0
	for n := range cuts {
		if added == roundCuts {
			break
		}
		if slices.ContainsFunc(cuts[:n], func(c found) bool {
			return c.row.least == cuts[n].row.least && slices.Equal(c.row.figures, cuts[n].row.figures)
		}) {
			continue
		}
		p.add(cuts[n].row)
		added++
	}
	return added > 0
}

// rounded makes the cut of a fractional row of the dictionary: the rows whose surplus stands in it, each times the fractional part of
// its figure there, added up and rounded up.
func (p *program) rounded(i int) (cut programRow, ok bool) {
	sums := make([]int64, p.columns)
	least := int64(0)
	for j, v := range p.beyond {
		n := v - p.columns
		if n < 0 {
			continue
		}
		a := -p.at[i][j]
		y := int64(math.Round((a - math.Floor(a)) * grain))
		if y == 0 || y == grain {
			continue
		}
		if p.rows[n].branch {
			return cut, false // it would hold in this branch only
		}
		least += y * int64(p.rows[n].least)
		for k, f := range p.rows[n].figures {
			sums[k] += y * int64(f)
		}
	}
	*p.work -= p.columns * 8
	cut.figures = make([]int32, p.columns)
	for k, s := range sums {
		if s < 0 || s > 500*grain {
			return cut, false
		}
		cut.figures[k] = int32((s + grain - 1) / grain)
	}
	cut.least = int32((least + grain - 1) / grain)
	return cut, least > 0
}

// dropLoose forgets the cuts that the present values hold with room to spare.
func (p *program) dropLoose() {
	for i := 0; i < len(p.basic); {
		n := p.basic[i] - p.columns
		if n < 0 || n < p.own || p.rows[n].branch || p.rhs[i] < 1e-6 {
			i++
			continue
		}
		last := len(p.basic) - 1
		p.basic[i], p.rhs[i], p.at[i] = p.basic[last], p.rhs[last], p.at[last]
		p.basic, p.rhs, p.at = p.basic[:last], p.rhs[:last], p.at[:last]
	}
}
