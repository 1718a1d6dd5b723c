namespace Outcomes.Ingestion.Reading;

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
