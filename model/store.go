package model

import "example.com/roundel/notation"

// A node is one stitch, run of chains or picot: 16 bytes, so that a million of
// them stay small.
type node struct {
	below int32 // the stitch it is worked into, or before a gap
	n     int32 // chains of a run; chain of the run below (from 1); index in Graph.legs
	kind  uint16
	yarn  uint16
	where where
	flags flags
}

// where is the kind of place a node is worked into.
type where uint8

const (
	nowhere where = iota
	inRing
	inStitch
	inSpace
	inChain
	inGap
	onLegs // several places, in Graph.legs
)

type flags uint8

const (
	flagCorner flags = 1 << iota
	flagBack         // worked into the back loop
	flagFront        // worked into the front loop
	flagGap          // a gap follows
	flagStart        // a starting chain that counts as this stitch
	flagSits         // a picot in the midst of a run of chains, in Graph.sits
)

// The first kinds of every graph.
const (
	kindCh    = 0
	kindPicot = 1
)

func (n *node) isStitch() bool { return n.kind > kindPicot }

func (n *node) isSpace() bool { return n.kind == kindCh }

// A leg is one foot of a stitch that stands in several places. The legs of a
// stitch stand in a row in Graph.legs, after an entry whose n is their number.
type leg struct {
	below, n int32
	where    where
	flags    flags
}

// A store holds nodes in blocks, so that it grows without copying.
type store struct {
	blocks [][]node
	len    int32
}

const (
	blockBits = 10
	blockLen  = 1 << blockBits
)

func (s *store) at(i int32) *node { return &s.blocks[i>>blockBits][i&(blockLen-1)] }

func (s *store) add(n node) int32 {
	id := s.len
	if int(id>>blockBits) == len(s.blocks) {
		s.blocks = append(s.blocks, make([]node, blockLen))
	}
	s.blocks[id>>blockBits][id&(blockLen-1)] = n
	s.len++
	return id
}

// extend adds room for up to n nodes and returns it, to be filled in; it may
// be less, at the end of a block.
func (s *store) extend(n int32) []node {
	if int(s.len>>blockBits) == len(s.blocks) {
		s.blocks = append(s.blocks, make([]node, blockLen))
	}
	room := s.from(s.len, n)
	s.len += int32(len(room))
	return room
}

// fill adds a node a number of times, each worked into a place step further on
// than the one before.
func (s *store) fill(n node, times, step int32) {
	for times > 0 {
		room := s.extend(times)
		for i := range room {
			room[i] = n
			n.below += step
		}
		times -= int32(len(room))
	}
}

// from returns the nodes from number i on, to the end of its block and at most
// n of them.
func (s *store) from(i, n int32) []node {
	block := s.blocks[i>>blockBits][i&(blockLen-1):]
	return block[:min(int32(len(block)), n)]
}

func (f flags) loop() notation.Loop {
	switch {
	case f&flagBack != 0:
		return notation.BackLoop
	case f&flagFront != 0:
		return notation.FrontLoop
	}
	return notation.BothLoops
}
