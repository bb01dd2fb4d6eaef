package web

// mostMoments is how many texts of one job are kept for undo; a job file is a few kilobytes.
const mostMoments = 200

// moment is one text that the job file had.
type moment struct {
	token string
	text  []byte
	what  string // what led to it: "supply.breaker: 30 A → 40 A"
}

// timeline is the row of texts that a job file went through while the program ran. Undo goes back along it and redo
// forward; what someone else wrote into the file is a moment like any other. It lives on the server, so it outlasts a
// reload of the page.
type timeline struct {
	moments []moment
	at      int // the present
}

// see records the text that the file has now; known or new, it becomes the present.
func (t *timeline) see(token string, text []byte, what string) {
	if len(t.moments) > 0 && t.moments[t.at].token == token {
		return
	}
	if len(t.moments) > 0 {
		t.moments = t.moments[:t.at+1]
	}
	t.moments = append(t.moments, moment{token, text, what})
	if extra := len(t.moments) - mostMoments; extra > 0 {
		t.moments = append([]moment(nil), t.moments[extra:]...)
	}
	t.at = len(t.moments) - 1
}

// find returns the text that had the token, if it is still kept.
func (t *timeline) find(token string) ([]byte, bool) {
	for _, m := range t.moments {
		if m.token == token {
			return m.text, true
		}
	}
	return nil, false
}

// to returns the moment that lies the steps away from the present.
func (t *timeline) to(steps int) (moment, bool) {
	if n := t.at + steps; 0 <= n && n < len(t.moments) {
		return t.moments[n], true
	}
	return moment{}, false
}

// undo says what an undo would take back, "" if nothing; redo likewise what it would do again.
func (t *timeline) undo() string {
	if t.at > 0 {
		return t.moments[t.at].what
	}
	return ""
}

func (t *timeline) redo() string {
	if t.at+1 < len(t.moments) {
		return t.moments[t.at+1].what
	}
	return ""
}
