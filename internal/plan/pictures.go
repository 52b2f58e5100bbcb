package plan

import (
	"maps"
	"slices"
)

// Pictures are the checksums of the pictures that the plan names, each once, in order: the
// one under the drawing and the photographs.
func (p *Plan) Pictures() []string {
	sums := map[string]bool{}
	if p.Underlay != nil {
		sums[p.Underlay.SHA256] = true
	}
	for _, f := range p.Photos {
		sums[f.SHA256] = true
	}
	return slices.Sorted(maps.Keys(sums))
}
