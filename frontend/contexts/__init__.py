"""What pages get to show: frozen records made from the rows and records of the rooms below."""
