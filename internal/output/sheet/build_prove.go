package sheet

// prove lays out the Prove stage: what was broken on purpose, and the meter sheet.
func (b *builder) prove() {}
