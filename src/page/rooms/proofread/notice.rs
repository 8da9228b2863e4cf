//! What is proofread until the texts are there.

/// A notice to proofread until the texts are there; written for this project.
pub const NOTICE: &str = "# Lost and found\n\nOn Monday 14 September a grey umbrella, two left boots and a letter to nobody were handed in on the Kittiwake. Whoever misses them may ask at the office on Hallam Quay between nine and five.\n\n- One umbrella with a carved handle, said to be from Orrin\n- Two boots, both of the same foot\n";
