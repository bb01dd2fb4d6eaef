package sheet

// schematic adds the drawings of the power path and the control circuit.
func (b *builder) schematic() {}
