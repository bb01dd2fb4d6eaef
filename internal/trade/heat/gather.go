package heat

import (
	"fmt"
	"slices"
	"strings"

	"drivewright/internal/base/explain"
	"drivewright/internal/base/quantity"
	"drivewright/internal/input/catalogue"
)

// oneFilm is the heat that one film of still air passes, at an upright painted wall.
var oneFilm = explain.Assume[quantity.HeatTransfer]("heat that one film of air passes", 11,
	explain.Practice("about 5 by convection and 6 by radiation at room temperature"), explain.Say("a box's wall has two such films, which together pass half of it"))

var (
	heatParameter        = explain.Parameter{Name: "heat", Kind: quantity.KindPower, Help: "that must leave the box", Example: "110 W"}
	conductanceParameter = explain.Parameter{Name: "walls", Kind: quantity.KindConductance, Help: "heat that the walls pass for each kelvin", Example: "3.2 W/K"}
	coefficientParameter = explain.Parameter{Name: "coefficient", Kind: quantity.KindHeatTransfer, Help: "of the wall in still air", Example: "5.5 W/(m²·K)", Default: "5.5 W/(m²·K)"}
	surfaceParameter     = explain.Parameter{Name: "cooling surface", Kind: quantity.KindArea, Help: "effective, by the way it is mounted", Example: "0.58 m²"}
	riseParameter        = explain.Parameter{Name: "rise", Kind: quantity.KindTemperatureRise, Help: "of the air inside over the shop's", Example: "20 K"}
	shopParameter        = explain.Parameter{Name: "shop", Kind: quantity.KindTemperature, Help: "hottest air around the box", Example: "35 °C"}
	altitudeParameter    = explain.Parameter{Name: "altitude", Kind: quantity.KindLength, Help: "above sea level", Example: "300 m", Default: "0 m"}
	boxHeightParameter   = explain.Parameter{Name: "height", Kind: quantity.KindLength, Help: "of the box, outside", Example: "800 mm"}
	boxWidthParameter    = explain.Parameter{Name: "width", Kind: quantity.KindLength, Help: "of the box, outside", Example: "600 mm"}
	boxDepthParameter    = explain.Parameter{Name: "depth", Kind: quantity.KindLength, Help: "of the box, outside", Example: "250 mm"}
	mountedParameter     = explain.Parameter{Name: "mounted", Kind: quantity.KindText, Help: "what its walls are free to give heat to", Example: "against a wall", Choices: catalogue.MountedWords()}
	filmParameter        = explain.Parameter{Name: "film of air", Kind: quantity.KindHeatTransfer, Help: "heat that one film of still air passes", Example: "11 W/(m²·K)", Default: "11 W/(m²·K)"}
	faceAreaParameter    = explain.Parameter{Name: "area", Kind: quantity.KindArea, Help: "of the face or faces", Example: "0.48 m²"}
	surfaceSource        = explain.Source{Work: "IEC TR 60890", Edition: "2014", Place: "effective cooling surface"}.Remembered()
	newtonSource         = explain.Physics("heat passed goes with the temperature difference")
	solAirSource         = explain.Source{Work: "ASHRAE Fundamentals", Place: "sol-air temperature"}.Remembered()
	errNoCoolingSurface  = fmt.Errorf("no face is left to give off heat")
)

var sunHeat = &explain.Formula{
	Name: "sun-heat", Title: "heat that sunshine on a box drives into it",
	Words: "{sunshine} × {taken up} × {area} × {coefficient} ÷ {film of air}: the part of it that the wall passes inwards",
	Inputs: []explain.Parameter{
		{Name: "sunshine", Kind: quantity.KindIrradiance, Help: "on the face", Example: "800 W/m²"},
		{Name: "taken up", Kind: quantity.KindRatio, Help: "by the colour: white 40 %, gray 75 %, black 95 %", Example: "75 %"},
		faceAreaParameter, coefficientParameter, filmParameter,
	},
	Result: quantity.KindPower, Source: solAirSource,
	Compute: explain.Of5(func(g quantity.Irradiance, a quantity.Ratio, area quantity.Area, k, film quantity.HeatTransfer) (explain.Answer, error) {
		if film <= 0 || k > film {
			return explain.Answer{}, fmt.Errorf("one film of air must pass more than the whole wall")
		}
		return explain.Is(quantity.Power(float64(g) * float64(a) * float64(area) * float64(k/film)))
	}),
}

var faceConductance = &explain.Formula{
	Name: "face-conductance", Title: "heat that a surface passes for each kelvin",
	Words: "{coefficient} × {area}", Inputs: []explain.Parameter{coefficientParameter, faceAreaParameter},
	Result: quantity.KindConductance, Source: newtonSource,
	Compute: explain.Of2(func(k quantity.HeatTransfer, a quantity.Area) (explain.Answer, error) {
		return explain.Is(conductance(k, a))
	}),
}

// conductance is what a surface passes for each kelvin.
func conductance(k quantity.HeatTransfer, a quantity.Area) quantity.Conductance {
	return quantity.Conductance(float64(k) * float64(a))
}

var neighbourPush = &explain.Formula{
	Name: "neighbour-heat", Title: "heat that a warm neighbour drives into a box as cool as the shop",
	Words: "{its face} × ({neighbour} − {shop})",
	Inputs: []explain.Parameter{
		{Name: "its face", Kind: quantity.KindConductance, Help: "heat that the face at it passes for each kelvin", Example: "1.5 W/K"},
		{Name: "neighbour", Kind: quantity.KindTemperature, Help: "surface of the motor or casting", Example: "60 °C"},
		shopParameter,
	},
	Result: quantity.KindPower, Source: newtonSource,
	Compute: explain.Of3(func(u quantity.Conductance, neighbour, shop quantity.Temperature) (explain.Answer, error) {
		return explain.Is(passed(u, quantity.Rise(neighbour, shop)))
	}),
}

// passed is the heat that goes through at the temperature difference.
func passed(u quantity.Conductance, d quantity.TemperatureRise) quantity.Power {
	return quantity.Power(float64(u) * float64(d))
}

var rectangle = &explain.Formula{
	Name: "face-area", Title: "area of a face",
	Words:  "{one side} × {other side}",
	Inputs: []explain.Parameter{{Name: "one side", Kind: quantity.KindLength, Help: "of the face", Example: "800 mm"}, {Name: "other side", Kind: quantity.KindLength, Help: "of the face", Example: "600 mm"}},
	Result: quantity.KindArea, Source: explain.Physics("rectangle"),
	Compute: explain.Of2(func(a, b quantity.Length) (explain.Answer, error) {
		if a <= 0 || b <= 0 {
			return explain.Answer{}, fmt.Errorf("both sides must be above zero")
		}
		return explain.Is(quantity.Area(float64(a) * float64(b)))
	}),
}

// area returns the area of the face.
func (b Box) area(f Face) explain.Known[quantity.Area] {
	name := "area of the " + string(f)
	switch f {
	case Left, Right:
		return explain.Derive[quantity.Area](rectangle, name, b.Height, b.Depth)
	case Top, Bottom:
		return explain.Derive[quantity.Area](rectangle, name, b.Width, b.Depth)
	case Front, Back:
	}
	return explain.Derive[quantity.Area](rectangle, name, b.Height, b.Width)
}

// addUp returns the sum under the name, with each part as an input.
func addUp[V quantity.Number](name string, parts ...explain.Known[V]) explain.Known[V] {
	var sum V
	var words []string
	var becauses []explain.Because
	for _, p := range parts {
		switch p.Why().Origin {
		case explain.NotNeeded:
			continue
		case explain.Missing:
			return explain.Absent[V](name, explain.Say("needs "+p.Why().Name))
		default:
		}
		sum += p.Value
		words = append(words, "{"+p.Why().Name+"}")
		becauses = append(becauses, p)
	}
	if len(words) == 1 {
		words[0] += " alone"
	}
	return explain.Chosen(name, sum, strings.Join(words, " + "), explain.Physics("sum"), becauses...)
}

// gather fills what comes into the box.
func gather(r *Result) {
	b := &r.Box
	var known []explain.Known[quantity.Power]
	for _, p := range b.Parts {
		if p.Loss.OK() {
			known = append(known, p.Loss)
		} else {
			r.Unknown = append(r.Unknown, p.Name)
		}
	}
	const lossName = "heat of the parts"
	if len(known) == 0 {
		r.Loss = explain.Absent[quantity.Power](lossName, explain.Say("needs the heat of what is in the box"))
	} else {
		r.Loss = addUp(lossName, known...)
		if len(r.Unknown) > 0 {
			r.Loss = r.Loss.Noted(explain.Say("without " + strings.Join(r.Unknown, ", ") + ": how much heat that gives off isn't known"))
		}
	}
	r.Transfer = explain.Derive[quantity.HeatTransfer](wallTransfer, "heat that the wall passes", b.Material, b.Altitude)
	sun(r)
	neighbour(r)
	r.Heat = addUp("heat that must leave the box", r.Loss, r.SunHeat)
}

// Shine returns what the sun brings on a face that it shines on, by the words of the job file: no, through a window, outdoors. It is missing where
// the place is, or where the table doesn't know it.
func Shine(place explain.Known[quantity.Text]) explain.Known[quantity.Irradiance] {
	const name = "sunshine on the box"
	g, source, ok := catalogue.Sunshine(string(place.Value))
	if !place.OK() || !ok {
		return explain.Absent[quantity.Irradiance](name, explain.Say("needs where the box is: out of the sun, behind a window or outdoors"))
	}
	return explain.Chosen(name, g, "table, {"+place.Why().Name+"}", source, place)
}

// sun fills what the sun brings.
func sun(r *Result) {
	b := &r.Box
	const name = "heat from the sun"
	if !b.Sun.Shine.OK() || b.Sun.Shine.Value <= 0 {
		r.SunHeat = explain.Needless[quantity.Power](name, explain.Say("no sun on the box"))
		return
	}
	takenUp := explain.Absent[quantity.Ratio]("sunshine taken up", explain.Say("needs a colour of the table: "+strings.Join(catalogue.ColourWords(), ", ")))
	if a, source, ok := catalogue.SunAbsorption(string(b.Colour.Value)); ok {
		takenUp = explain.Chosen("sunshine taken up", a, "table, {"+b.Colour.Why().Name+"}", source, b.Colour)
	}
	var areas []explain.Known[quantity.Area]
	for _, f := range b.Sun.Faces {
		areas = append(areas, b.area(f))
	}
	r.SunHeat = explain.Derive[quantity.Power](sunHeat, name, b.Sun.Shine, takenUp, addUp("area in the sun", areas...), r.Transfer, oneFilm)
}

// neighbour fills what a warm neighbour brings.
func neighbour(r *Result) {
	b := &r.Box
	if !b.Neighbour.Temperature.OK() || b.Neighbour.Face == "" {
		why := explain.Say("nothing warm at the box")
		r.Touch, r.Push = explain.Needless[quantity.Conductance]("conductance of the face at the neighbour", why), explain.Needless[quantity.Power]("heat from the neighbour", why)
		return
	}
	r.Touch = explain.Derive[quantity.Conductance](faceConductance, "conductance of the face at the neighbour", oneFilm, b.area(b.Neighbour.Face)).
		Noted(explain.Say("as if the wall were as warm as the neighbour: only the film of air inside holds the heat back"))
	r.Push = explain.Derive[quantity.Power](neighbourPush, "heat from the neighbour", r.Touch, b.Neighbour.Temperature, b.Ambient)
}

// load is what must leave the box, and what its walls pass.
type load struct {
	heat  explain.Known[quantity.Power]
	walls explain.Known[quantity.Conductance]
}

// alone is the load without the neighbour.
func (r *Result) alone() load { return load{r.Heat, r.Wall} }

// settle works a rise out. A neighbour counts only where it heats the box: whether it would also cool one that is warmer than itself hangs on how close
// they stand, and isn't relied on. The rise without it tells which: with it, it moves towards the neighbour's temperature and never past.
func (r *Result) settle(rise func(load) explain.Known[quantity.TemperatureRise]) explain.Known[quantity.TemperatureRise] {
	d := rise(r.alone())
	if d.OK() && r.Touch.OK() && r.heats(d) {
		return rise(r.beside)
	}
	return d
}

// heats reports whether the neighbour heats a box that is so much warmer than the shop.
func (r *Result) heats(d explain.Known[quantity.TemperatureRise]) bool {
	return r.Touch.OK() && r.Box.Ambient.Value.Warmer(d.Value) < r.Box.Neighbour.Temperature.Value
}

// loadAt is the load at the rise.
func (r *Result) loadAt(d explain.Known[quantity.TemperatureRise]) load {
	if r.heats(d) {
		return r.beside
	}
	return r.alone()
}

// coveredFaces are the faces that give off no heat to the shop, in words for the formula: "back, top" or "none".
func (b Box) coveredFaces() []Face {
	covered := slices.Clone(b.Covered)
	if b.Neighbour.Temperature.OK() && b.Neighbour.Face != "" && !slices.Contains(covered, b.Neighbour.Face) {
		covered = append(covered, b.Neighbour.Face)
	}
	return covered
}
