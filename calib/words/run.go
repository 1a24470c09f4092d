package words

// run is what the shots of a run may be refused, left out or warned of for.
func run() map[string]say {
	return map[string]say{}
}
