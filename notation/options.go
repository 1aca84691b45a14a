package notation

import "context"

// Limits bound what Parse takes on. A field that is not above 0 stands for its
// default.
type Limits struct {
	// Bytes is the length of a text; default 128 KiB, over a thousand rounds.
	// The statements past it are kept, not read.
	Bytes int
	// Depth is the number of brackets in brackets; default 32. A statement
	// nested deeper is kept, not read.
	Depth int
	// Errors is the number of findings of each rule; default 100. Past so many
	// syntax errors the statements that follow are kept, not read.
	Errors int
}

// The default limits.
const (
	DefaultBytes  = 128 << 10
	DefaultDepth  = 32
	DefaultErrors = 100
)

func (l Limits) withDefaults() Limits {
	if l.Bytes <= 0 {
		l.Bytes = DefaultBytes
	}
	if l.Depth <= 0 {
		l.Depth = DefaultDepth
	}
	if l.Errors <= 0 {
		l.Errors = DefaultErrors
	}
	return l
}

// An Option changes how Parse works.
type Option func(*config)

type config struct {
	limits Limits
	ctx    context.Context
}

// WithLimits sets limits, and defaults for the fields left out.
func WithLimits(l Limits) Option { return func(c *config) { c.limits = l } }

// WithContext lets ctx end the reading: the statements that are not read by
// then are kept as they stand, as one *Bad, and a finding of the rule limit says
// so.
func WithContext(ctx context.Context) Option { return func(c *config) { c.ctx = ctx } }

func configOf(options []Option) config {
	c := config{ctx: context.Background()}
	for _, o := range options {
		o(&c)
	}
	c.limits = c.limits.withDefaults()
	return c
}
