package level

import (
	"slices"
	"sync"
)

// Cache are the models of one series that have been worked out: of all its readings, or of
// the first of them.
type Cache struct {
	mu          sync.Mutex
	models      []cached
	checkpoints []checkpointed
	slopes      []cachedSlope
}

type cached struct {
	set   Setting
	n     int
	model *Model
}

// checkpointed is a model that others go on from, with readings up to laid in its memory.
type checkpointed struct {
	cached
	preloaded int
}

type cachedSlope struct {
	set Setting
	Slope
}

// checkpoint is how many readings before the last a model without bad days is kept, from
// which those of fewer readings go on: the question of a new usual asks for several.
const checkpoint = 8

// Plain gives the model without bad days of the first n of all the readings.
func (f *Cache) Plain(set Setting, points []Reading, n int) *Model {
	if n <= checkpoint {
		return Fit(set, points[:n])
	}
	f.mu.Lock()
	i := slices.IndexFunc(f.checkpoints, func(k checkpointed) bool { return k.set == set })
	f.mu.Unlock()
	if i < 0 {
		l := New(set)
		l.Grow(n)
		l.Fit(points[:n-checkpoint])
		l.preload(points[n-checkpoint : n])
		f.mu.Lock()
		i = len(f.checkpoints)
		f.checkpoints = append(f.checkpoints, checkpointed{cached{set, n - checkpoint, l}, n})
		f.mu.Unlock()
	}
	f.mu.Lock()
	base := f.checkpoints[i]
	f.mu.Unlock()
	if n < base.n || n > base.preloaded {
		return Fit(set, points[:n])
	}
	l := base.model.cloneUpTo(n)
	l.Weigh()
	return l
}

// Of gives the model of the first n readings.
func (f *Cache) Of(set Setting, n int, make func() *Model) *Model {
	f.mu.Lock()
	i := slices.IndexFunc(f.models, func(k cached) bool { return k.n == n && k.set == set })
	if i >= 0 {
		defer f.mu.Unlock()
		return f.models[i].model
	}
	f.mu.Unlock()
	l := make() // may ask for another
	f.mu.Lock()
	defer f.mu.Unlock()
	f.models = append(f.models, cached{set, n, l})
	return l
}

// Slope gives the direction of the readings.
func (f *Cache) Slope(set Setting, make func() Slope) Slope {
	f.mu.Lock()
	defer f.mu.Unlock()
	for i := range f.slopes {
		if k := &f.slopes[i]; k.set == set {
			return k.Slope
		}
	}
	s := make()
	f.slopes = append(f.slopes, cachedSlope{set, s})
	return s
}

// Put takes in a model that was worked out elsewhere.
func (f *Cache) Put(set Setting, n int, l *Model) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.models = append(f.models, cached{set, n, l})
}

// PutSlope takes in a direction that was worked out elsewhere.
func (f *Cache) PutSlope(set Setting, s Slope) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.slopes = append(f.slopes, cachedSlope{set, s})
}
