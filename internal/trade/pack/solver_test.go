package pack

import (
	"bufio"
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// needMinisat skips the test where minisat isn't installed, unless DRIVEWRIGHT_REQUIRE_TOOLS says that it must be.
func needMinisat(t testing.TB) {
	t.Helper()
	if _, err := exec.LookPath("minisat"); err != nil {
		if os.Getenv("DRIVEWRIGHT_REQUIRE_TOOLS") != "" {
			t.Fatal("minisat is needed for this test and isn't installed")
		}
		t.Skip("minisat isn't installed")
	}
}

// arrangementExists asks minisat, a general-purpose solver that nobody here wrote, whether the items fit: one question for each place of
// each item, each item in one of them, and no two places that don't agree. Nothing of that is how Fit asks it.
func arrangementExists(t *testing.T, p *Problem) bool {
	spots, agree := everyPlace(p)
	first := make([]int, len(spots))
	questions := 0
	for n, list := range spots {
		first[n] = questions + 1
		questions += len(list)
	}
	var clauses bytes.Buffer
	count := 0
	for n, list := range spots {
		for i := range list {
			fmt.Fprintf(&clauses, "%d ", first[n]+i)
		}
		fmt.Fprintln(&clauses, 0)
		count++
		for b := range n {
			for i, row := range agree[n][b] {
				for j, yes := range row {
					if !yes {
						fmt.Fprintf(&clauses, "-%d -%d 0\n", first[n]+i, first[b]+j)
						count++
					}
				}
			}
		}
	}
	folder := t.TempDir()
	question, answer := filepath.Join(folder, "question.cnf"), filepath.Join(folder, "answer")
	text := fmt.Appendf(nil, "p cnf %d %d\n%s", questions, count, clauses.Bytes())
	if err := os.WriteFile(question, text, 0o644); err != nil {
		t.Fatal(err)
	}
	exec.Command("minisat", "-verb=0", question, answer).Run() // its exit code is its answer, which the file repeats
	said, err := os.Open(answer)
	if err != nil {
		t.Fatal(err)
	}
	defer said.Close()
	line, _ := bufio.NewReader(said).ReadString('\n')
	switch line {
	case "SAT\n":
		return true
	case "UNSAT\n":
		return false
	}
	t.Fatalf("minisat gave no answer but %q", line)
	return false
}

// TestProofsAgainstMinisat compares verdicts on problems that are too large to look through: those among many at random that took some
// search, or that a bound ruled out.
func TestProofsAgainstMinisat(t *testing.T) {
	needMinisat(t)
	count := 60
	if testing.Short() {
		count = 10
	}
	verdicts := [3]int{}
	deadEnds := int64(0)
	for n := 0; verdicts[Found]+verdicts[Impossible] < count; n++ {
		r := rand.New(rand.NewPCG(uint64(n), 11))
		p := randomOf(r, false, 7, 4, 6+r.IntN(4))
		a := Fit(&p, Options{})
		if a.Verdict == Impossible && strings.Contains(a.Why, "by itself") || a.Verdict == Found && a.Steps < 5 || verdicts[a.Verdict] >= count/2 {
			continue
		}
		verdicts[a.Verdict]++
		deadEnds += a.Steps
		if want := arrangementExists(t, &p); want != (a.Verdict == Found) {
			t.Fatalf("problem %d: verdict %d (%s), but an arrangement exists: %v\n%s", n, a.Verdict, a.Why, want, describe(&p))
		}
	}
	t.Logf("%d found, %d proved impossible, %d dead ends", verdicts[Found], verdicts[Impossible], deadEnds)
}
