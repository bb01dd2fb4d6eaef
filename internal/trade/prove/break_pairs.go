package prove

import "context"

func (b *breaking) pairs(ctx context.Context) ([]Fault, int, error) { return nil, 0, ctx.Err() }
