package size

import "example.com/roundel/model"

// ShapeWhole is Shape without the short cut that rounds repeat themselves.
func ShapeWhole(g *model.Graph, d Dimensions) *Piece {
	s := NewShaper(g, d)
	s.whole = true
	for {
		if _, ok := s.Next(); !ok {
			return s.Piece()
		}
	}
}
