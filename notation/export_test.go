package notation

// What the tests outside the package share with those inside; package
// notationtest imports this one, so that its generators can only be used
// outside.
var (
	Same            = same
	WithoutComments = withoutComments
	ParseClean      = parseClean
	NoDiff          = noDiff
	CheckDraft      = checkDraft
	CommentsOf      = commentsOf
	Sprinkle        = sprinkle
)
