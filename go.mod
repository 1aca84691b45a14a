module example.com/roundel

go 1.26

require (
	github.com/alecthomas/participle/v2 v2.1.4
	github.com/google/go-cmp v0.7.0
	pgregory.net/rapid v1.3.0
)
