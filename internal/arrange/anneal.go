package arrange

import "context"

// anneal betters candidates one number of heads at a time, the fewest last. It
// tells each number as it is done.
func (s *search) anneal(ctx context.Context, from []candidate, tell func(candidate)) []candidate {
	return nil
}
