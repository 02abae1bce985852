package trail

import "lastpump/cmd/lastpump/internal/words/bail"

// bailOuts says where help is by road from the marks of a leg.
func (v Voice) bailOuts(leg int) (out []Sentence) {
	for i, text := range bail.Of(v.Voice).OnLeg(leg) {
		if i == 0 {
			out = append(out, Sentence{Text: bail.Short, How: Firm})
		}
		out = append(out, Sentence{Text: text})
	}
	return out
}
