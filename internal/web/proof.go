package web

import (
	"crypto/sha256"
	"fmt"
	"time"

	"drivewright/internal/input/job"
	"drivewright/internal/plan"
	"drivewright/internal/trade/circuit"
	"drivewright/internal/trade/prove"
)

// The Prove stage takes up to a second, a change of a value must be on the screen in a tenth of one. So the sheet is shown at
// once without it, the proof is worked out beside, and the pages are told when it is there. A proof depends on the circuit alone
// and is kept under the circuit's mark: a change that leaves the circuit as it is has its proof already, and none is ever shown
// beside another circuit than its own.

// settled is how long a circuit must have stood still before its proof is begun: whoever changes one value after another has the
// machine for the sheet.
const settled = 200 * time.Millisecond

// proofWork is the working out of one job's proof. One at a time is under way; what is wanted meanwhile waits, and only the
// latest of it: nobody looks at a circuit that has been changed again.
type proofWork struct {
	running bool
	under   string // mark of the circuit whose proof is under way; "" if none is
	wanted  *circuit.Circuit
	mark    string // of the wanted one
	done    int    // how many were finished, so that pages see that something is new
}

// workOut makes the plan of a job's text, with the readings that were taken. proved is false while its proof is being worked
// out; the pages that are open on the job are told when it is there. The bench's lock is held.
func (s *server) workOut(name string, b *bench, text []byte) (p plan.Plan, proved bool) {
	p = s.plan(name, text)
	mark := p.CircuitMark()
	if proof, ok := s.proofs.find(mark); ok {
		p.TakeProof(proof)
		return p, true
	}
	c := p.Circuit.Circuit // the plan's own gets the lengths of its wires while this one is being proved
	b.work.wanted, b.work.mark = &c, mark
	if mark == b.work.under {
		b.work.wanted = nil
	}
	if !b.work.running {
		b.work.running = true
		go s.proveBeside(b)
	}
	return p, false
}

// proveBeside works out the proof of what is wanted, and of what is wanted meanwhile, until nothing is.
func (s *server) proveBeside(b *bench) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for b.work.wanted != nil {
		for seen := ""; seen != b.work.mark; { // until it stands still
			seen = b.work.mark
			b.mu.Unlock()
			time.Sleep(settled)
			b.mu.Lock()
		}
		c, mark := b.work.wanted, b.work.mark
		b.work.wanted, b.work.under = nil, mark
		b.mu.Unlock()
		proof, ok := s.proveSafely(c)
		b.mu.Lock()
		b.work.under = ""
		if ok {
			s.proofs.keep(mark, proof)
			b.work.done++
			b.tell()
		}
	}
	b.work.running = false
}

// proveSafely keeps a fault in the proof from taking the program down with it: the sheet stays, without its proof. A request that
// fails so is caught by net/http, work beside the requests by nobody else.
func (s *server) proveSafely(c *circuit.Circuit) (proof prove.Proof, ok bool) {
	defer func() {
		if fault := recover(); fault != nil {
			ok = false
		}
	}()
	return s.Prove(c), true
}

// whole makes the plan of a job's text and waits for its proof and its arrangement.
func (s *server) whole(name string, text []byte) plan.Plan {
	p := s.plan(name, text)
	mark := p.CircuitMark()
	proof, ok := s.proofs.find(mark)
	if !ok {
		proof = s.Prove(&p.Circuit.Circuit)
		s.proofs.keep(mark, proof)
	}
	p.TakeProof(proof)
	s.arrangeNow(&p)
	return p
}

// plan makes the plan of a job's text with the readings that were taken, but no proof.
func (s *server) plan(name string, text []byte) plan.Plan {
	p := plan.Make(job.Read(name, text))
	if records, err := s.Store.Records(name); err == nil {
		taken, unreadable := prove.ReadRecords(title(name)+".readings", records)
		p.Taken, p.Findings = taken, append(p.Findings, unreadable...)
	}
	return p
}

// beside is the mark of what the sheet shows beside the file: which proof, which arrangement and which readings. The bench's lock is held.
func (s *server) beside(name string, b *bench) string {
	records, _ := s.Store.Records(name) // unreadable ones count as none, as on the sheet
	sum := sha256.Sum256(records)
	return fmt.Sprintf("%d-%d-%x", b.work.done, b.arranging.told, sum[:6])
}
