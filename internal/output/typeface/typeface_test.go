package typeface

import (
	"io/fs"
	"math"
	"strings"
	"testing"
)

// The advance widths below were read from the upstream files with fontTools 4.38 (TTFont(...)["hmtx"]), at 1000 units
// to the em.
func TestWidthsAreThoseOfTheFontFiles(t *testing.T) {
	for _, c := range []struct {
		face Face
		text string
		want float64
	}{
		{Regular, "0", 497}, {Regular, "1", 497}, {Italic, "0", 480}, {Mono, "i", 600}, {Mono, "W", 600}, {Regular, "½", 808}, {Regular, "¼", 781},
		{Regular, "0123456789", 4970}, {Italic, "½", 772},
	} {
		if got := c.face.Width(c.text, 1000); math.Abs(got-c.want) > 0.5 {
			t.Errorf("%s %q: got a width of %.1f, want %.1f thousandths", c.face.File(), c.text, got, c.want)
		}
	}
}

// The pair adjustments were read from the upstream files' GPOS tables with fontTools 4.38.
func TestPairsAreKerned(t *testing.T) {
	for _, c := range []struct {
		pair string
		want int
	}{{"To", -71}, {"Te", -71}, {"LT", -120}, {"AV", -16}, {"r.", -73}, {"ow", -6}, {"nn", 0}, {"71", 0}, {"Ωa", 0}} {
		letters := []rune(c.pair)
		if got := Semibold.Kern(letters[0], letters[1]); got != c.want {
			t.Errorf("%q moves by %d, want %d", c.pair, got, c.want)
		}
		apart := Semibold.Width(string(letters[0]), 1000) + Semibold.Width(string(letters[1]), 1000)
		if got := Semibold.Width(c.pair, 1000); math.Abs(got-apart-float64(c.want)) > 0.5 {
			t.Errorf("%q is %.1f wide, want %.1f", c.pair, got, apart+float64(c.want))
		}
		if Mono.Kern(letters[0], letters[1]) != 0 {
			t.Errorf("the mono moves %q", c.pair)
		}
	}
}

func TestTheFacesHaveWhatASheetNeeds(t *testing.T) {
	const needed = "ABCxyz0123456789 .,:;()[]/%+-−–—·•×÷±≤≥≈√∞Ωµ°²³½¼¾⅛⅜⅝⅞→←↑↓Δπφ′″‘’“”…éöüßñ§"
	for _, face := range Faces {
		for _, r := range needed {
			if !face.Has(r) {
				t.Errorf("%s lacks %q", face.File(), r)
			}
		}
		for r := '1'; r <= '9'; r++ {
			if face.Width(string(r), 1) != face.Width("0", 1) {
				t.Errorf("%s: figure %c is not as wide as 0: columns of numbers won't line up", face.File(), r)
			}
		}
	}
	if Regular.Has('⏚') {
		t.Error("the earth sign is in the face after all: draw it as text")
	}
}

// A subset keeps numbers and widths of all glyphs, and outlines of the used ones only, those of accented letters with the
// letters that they are built on.
func TestSubsetKeepsWhatIsUsed(t *testing.T) {
	for _, face := range Faces {
		whole := face.tables()
		used := []uint16{face.Glyph('A'), face.Glyph('é'), face.Glyph('Ω'), face.Glyph('½')}
		small := face.Subset(used)
		file, err := fs.ReadFile(Files(), face.File())
		if err != nil {
			t.Fatal(err)
		}
		if len(small)*3 > len(file) {
			t.Errorf("%s: four letters take %d of %d bytes", face.File(), len(small), len(file))
		}
		// the subset has no character map, so its tables are read by hand
		withMap := map[string][]byte{"cmap": whole.raw["cmap"]}
		for name, data := range tablesOf(small) {
			withMap[name] = data
		}
		back, err := parse(assemble(withMap))
		if err != nil {
			t.Fatalf("%s: %v", face.File(), err)
		}
		for _, g := range used {
			got, want := string(back.outline(back.raw["glyf"], g)), string(whole.outline(whole.raw["glyf"], g))
			if want == "" || !strings.HasPrefix(got, want) {
				t.Errorf("%s: glyph %d lost its outline", face.File(), g)
			}
			for _, part := range components([]byte(want)) {
				if len(back.outline(back.raw["glyf"], part)) == 0 {
					t.Errorf("%s: glyph %d lost its part %d", face.File(), g, part)
				}
			}
			if back.advance(g) != whole.advance(g) {
				t.Errorf("%s: glyph %d changed its width", face.File(), g)
			}
		}
		if len(back.outline(back.raw["glyf"], face.Glyph('Z'))) != 0 {
			t.Errorf("%s: an unused letter kept its outline", face.File())
		}
	}
}

func tablesOf(file []byte) map[string][]byte {
	all := map[string][]byte{}
	for n := range int(u16(file, 4)) {
		entry := 12 + 16*n
		offset, length := u32(file, entry+8), u32(file, entry+12)
		all[string(file[entry:entry+4])] = file[offset : offset+length]
	}
	return all
}

func TestTheLicenceIsThere(t *testing.T) {
	text, err := fs.ReadFile(Files(), "LICENCE.md")
	if err != nil || !strings.Contains(string(text), "SIL OPEN FONT LICENSE") {
		t.Errorf("the fonts' licence must travel with them: %v", err)
	}
}

func BenchmarkWidth(b *testing.B) {
	for b.Loop() {
		Regular.Width("branch conductor, 10 AWG copper at 75 °C", 9)
	}
}
