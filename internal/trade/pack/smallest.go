package pack

// Smallest looks for the first room of a list that holds everything, and for proofs that those before it don't. It returns the room's
// index, -1 if none was found, and what is known of each room up to it. The rooms are those of p in all but size, in the order in
// which they are preferred. A room that is hard is put off until a later one was found, and gone on with then.
// Options.Steps limits the dead ends in each room; 0 is no limit, so that only a verdict or Stop ends it.
func Smallest(rooms []Vec, p *Problem, o Options) (which int, answers []Answer) {
	which = -1
	races := make([]*race, len(rooms))
	answers = make([]Answer, len(rooms))
	over := make([]bool, len(rooms))
	for effort := int64(2000); ; effort *= 4 {
		limit := effort
		if o.Steps > 0 {
			limit = min(limit, o.Steps)
		}
		left := false // a room before the best is undecided
		for n := range rooms {
			if over[n] {
				continue
			}
			if effort == 2000 {
				q := *p
				q.Room = rooms[n]
				races[n], answers[n], over[n] = newRace(&q, o)
				if races[n] != nil {
					races[n].invite()
				}
			}
			if races[n] != nil {
				answers[n], over[n] = races[n].run(limit)
			}
			if answers[n].Verdict == Found {
				which = n
				rooms, races, over, answers = rooms[:n+1], races[:n+1], over[:n+1], answers[:n+1]
				if o.Watch != nil {
					o.Watch(answers[n])
				}
				break
			}
			left = left || !over[n]
		}
		if !left || o.stopped() || o.Steps > 0 && limit >= o.Steps {
			return which, answers
		}
	}
}
