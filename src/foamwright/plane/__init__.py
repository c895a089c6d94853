"""What the builder wrote: the plane file, its parts and its wishes."""
