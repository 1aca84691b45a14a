module example.com/roundel

go 1.26

require (
	github.com/alecthomas/participle/v2 v2.1.4
	github.com/google/go-cmp v0.7.0
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	pgregory.net/rapid v1.3.0
)

require golang.org/x/text v0.14.0 // indirect
