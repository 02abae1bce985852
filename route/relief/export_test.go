package relief

// Held gives the bytes of samples that are held, for tests of the bound.
func (t *Tiles) Held() int { return t.size() }
