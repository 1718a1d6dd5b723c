namespace Outcomes.Ingestion.Traces;

/// <summary>One sample of a signal, in the dictionary's unit.</summary>
/// <param name="Ms">Milliseconds from induction.</param>
/// <param name="Value">The value; NaN where the row has none that counts (blank, artefact, lead off, outside the possible range).</param>
public readonly record struct Sample(int Ms, double Value);
