package arrange

import (
	"cmp"
	"runtime"
	"sync"
)

// pool is the benches that runs are made on, as many as there are cores: how many
// does not change what is found.
type pool struct {
	coarse, fine []*bench
	sharp        *bench // to read again what was found
}

// sharper is the cells of the sharp bench over those of the fine ones: no head that
// lines up with those lines up with its. Chosen.
const sharper = 0.6137

func (s *search) pool() (*pool, error) {
	on := &pool{}
	for range min(cmp.Or(s.cores, runtime.GOMAXPROCS(0)), restarts) {
		fine, err := s.bench(s.cell)
		if err != nil {
			return nil, err
		}
		coarse, err := s.bench(coarser * s.cell)
		if err != nil {
			return nil, err
		}
		on.fine, on.coarse = append(on.fine, fine), append(on.coarse, coarse)
	}
	var err error
	on.sharp, err = s.bench(sharper * s.cell)
	return on, err
}

func (on *pool) reads() int {
	n := on.sharp.reads
	for i := range on.fine {
		n += on.fine[i].reads + on.coarse[i].reads
	}
	return n
}

// each does n tasks, on every bench there is; task i puts what it finds at i.
func (on *pool) each(benches []*bench, n int, do func(b *bench, i int)) {
	next := make(chan int, n)
	for i := range n {
		next <- i
	}
	close(next)
	var wg sync.WaitGroup
	for _, b := range benches {
		wg.Go(func() {
			for i := range next {
				do(b, i)
			}
		})
	}
	wg.Wait()
}
