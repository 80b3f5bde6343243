package forecast

import "sync"

// lookRoom is the work space of one look, weighing or comparison, to be used again and
// again. What an earlier one left in it is never read.
type lookRoom struct {
	byNode, byLength []float64 // the latter by node at the three lengths of a parabola
	bells, general   []float64 // moments3 numbers by node
	taken            [][]parabola
	used             int
	weighed          []*evidence
	laid             int // evidences in use
	densities        []density
	dense            int       // of these in use
	readings         []reading // of one group
	cells            []int32
	chances, thinned []float64 // of a stake's lengths, and of those that shares are worked out at
	view             view
	kernel           kernel
}

func newLookRoom() *lookRoom {
	return &lookRoom{byNode: make([]float64, gridNodes), byLength: make([]float64, 3*gridNodes), bells: newDensity(), general: newDensity()}
}

// take gives parabolas by node that are free until the room is left or given
// back to what was used before.
func (r *lookRoom) take() []parabola {
	if r.used == len(r.taken) {
		r.taken = append(r.taken, make([]parabola, gridNodes))
	}
	r.used++
	return r.taken[r.used-1]
}

// evidence gives room for one that is free until the room is left.
func (r *lookRoom) evidence() *evidence {
	if r.laid == len(r.weighed) {
		r.weighed = append(r.weighed, &evidence{})
	}
	r.laid++
	return r.weighed[r.laid-1]
}

// density gives room for one that is free until the room is left.
func (r *lookRoom) density() density {
	if r.dense == len(r.densities) {
		r.densities = append(r.densities, newDensity())
	}
	r.dense++
	return r.densities[r.dense-1]
}

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
	room.used, room.laid, room.dense = 0, 0, 0
	r.mutex.Lock()
	defer r.mutex.Unlock()
	r.free = append(r.free, room)
}
