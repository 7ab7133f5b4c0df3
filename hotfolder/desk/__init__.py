"""One job from claim to delivery, its record, its neighbours before and after it, and whose turn it is."""
