package words

// shot is what a shoot's frames show.
func shot() map[string]say {
	return map[string]say{}
}
