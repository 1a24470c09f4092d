package words

// planned is what is doubtful about a plan.
func planned() map[string]say {
	return map[string]say{}
}
