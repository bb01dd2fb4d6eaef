package sheet

// wire lays out the Wire stage: the papers that the circuit is wired from.
func (b *builder) wire() {}
