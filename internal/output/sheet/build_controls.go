package sheet

// controls lays out the Controls stage.
func (b *builder) controls() { b.schematic() }
