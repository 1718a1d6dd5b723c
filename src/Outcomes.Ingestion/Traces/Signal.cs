namespace Outcomes.Ingestion.Traces;

/// <summary>What a monitor samples, in the order of the dictionary's allowed values of <c>signal</c>.</summary>
public enum Signal : byte
{
    SpO2,
    PlethRate,
    EtCO2,
    Systolic,
    Mean,
    RespiratoryRate,
    HeartRate,
}

/// <summary>One sample of a signal, in the dictionary's unit.</summary>
/// <param name="Ms">Milliseconds from induction.</param>
/// <param name="Value">The value; NaN where the row has none that counts (blank, artefact, lead off, outside the possible range).</param>
public readonly record struct Sample(int Ms, double Value);
