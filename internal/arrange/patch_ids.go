package arrange

import (
	"crypto/sha256"
	"encoding/binary"
	"strconv"

	"evenfall/internal/plan"
)

// namer gives ids to new heads. They come from the plan as it is, so that the
// same question has the same answer and a plan that has been changed since never
// gets an id that was used before; those of different areas differ in their first
// letters, so that layouts of several areas can be applied one after another.
type namer struct {
	digest [sha256.Size]byte // of the plan
	taken  map[plan.ID]bool  // ids of heads, and those that other things still name
	area   map[plan.ID]int   // by id
}

func newNamer(p *plan.Plan) *namer {
	n := &namer{digest: sha256.Sum256(p.Encode()), taken: map[plan.ID]bool{}, area: map[plan.ID]int{}}
	for id := range p.Heads {
		n.taken[id] = true
	}
	for _, id := range plan.SortedIDs(p.Nodes) {
		n.taken[p.Nodes[id].Head] = true
	}
	for _, id := range plan.SortedIDs(p.Accepted) {
		for _, r := range p.Accepted[id].About {
			_, about := r.Split()
			n.taken[about] = true
		}
	}
	for i, id := range plan.SortedIDs(p.Areas) {
		n.area[id] = i
	}
	return n
}

// fresh is the id of new head i of an area.
func (n *namer) fresh(area plan.ID, i int) plan.ID {
	// Three letters name the area, so that they are as long whatever the area.
	const areas = 36 * 36 * 36
	mark := strconv.FormatInt(int64(areas+n.area[area]%areas), 36)[1:]
	for turn := 0; ; turn++ {
		seed := append(n.digest[:], area...)
		seed = binary.LittleEndian.AppendUint32(seed, uint32(i))
		seed = binary.LittleEndian.AppendUint32(seed, uint32(turn))
		sum := sha256.Sum256(seed)
		id := plan.ID("h" + mark + strconv.FormatUint(binary.LittleEndian.Uint64(sum[:])|1<<63, 36)[2:10])
		if !n.taken[id] {
			return id
		}
	}
}
