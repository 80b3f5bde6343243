package forecast

import "sync"

// lookRoom is the work space of one look, weighing or comparison, to be used again and
// again. What an earlier one left in it is never read.
type lookRoom struct {
	byNode, byLength []float64         // the latter by node at the three lengths of a parabola
	bells, general   []float64         // moments3 numbers by node
	parabolas        shelf[[]parabola] // by node
	evidences        shelf[*evidence]
	densities        shelf[density]
	readings         []reading // of one group
	cells            []int32
	chances, thinned []float64 // of a stake's lengths, and of those that shares are worked out at
	view             view
	kernel           kernel
}

func newLookRoom() *lookRoom {
	return &lookRoom{byNode: make([]float64, gridNodes), byLength: make([]float64, 3*gridNodes), bells: newDensity(), general: newDensity()}
}

// shelf holds things of one kind, of which the first ones are in use.
type shelf[T any] struct {
	all  []T
	used int
}

// take gives a thing that is not in use until used is put back, one that make gives
// where there is none.
func (s *shelf[T]) take(make func() T) T {
	if s.used == len(s.all) {
		s.all = append(s.all, make())
	}
	s.used++
	return s.all[s.used-1]
}

// take gives parabolas by node that are free until the room is left or given
// back to what was used before.
func (r *lookRoom) take() []parabola {
	return r.parabolas.take(func() []parabola { return make([]parabola, gridNodes) })
}

// evidence gives room for one that is free until the room is left.
func (r *lookRoom) evidence() *evidence {
	return r.evidences.take(func() *evidence { return &evidence{} })
}

// density gives room for one that is free until the room is left.
func (r *lookRoom) density() density { return r.densities.take(newDensity) }

// copied gives a copy of a density, until the room is left.
func (r *lookRoom) copied(d density) density {
	own := r.density()
	copy(own, d)
	return own
}

// lookRooms holds the rooms that nobody is using at the moment. Any number of
// goroutines may take and leave.
type lookRooms struct {
	mutex sync.Mutex
	free  []*lookRoom
}

func (r *lookRooms) take() *lookRoom {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	if n := len(r.free); n > 0 {
		room := r.free[n-1]
		r.free = r.free[:n-1]
		return room
	}
	return newLookRoom()
}

func (r *lookRooms) leave(room *lookRoom) {
	room.parabolas.used, room.evidences.used, room.densities.used = 0, 0, 0
	r.mutex.Lock()
	defer r.mutex.Unlock()
	r.free = append(r.free, room)
}
