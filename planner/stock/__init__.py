"""What is sawn and cut from what is on the rack: cut list, flat pieces, the job copied with changes."""
