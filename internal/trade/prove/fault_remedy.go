package prove

import "drivewright/internal/base/explain"

func (b *breaking) remedy(f *breakage, out *Fault) explain.Phrase { return explain.Phrase{} }

func wholeRemedy(c Class) explain.Phrase { return explain.Phrase{} }
