"""What many valves ask for in an outage: order, kit and labour; and the follow-up of valves by the log of their gaps."""
