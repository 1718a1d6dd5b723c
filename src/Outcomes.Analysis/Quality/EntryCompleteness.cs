using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>A month of which records are still to come, by the delays of entry so far.</summary>
/// <param name="Month">The month.</param>
/// <param name="Records">Its records by now.</param>
/// <param name="Expected">The share of its records that is expected to be entered by now, above 0 and below 1.</param>
public sealed record EntryCompleteness(Month Month, long Records, double Expected)
{
    /// <summary>Below this share a month is provisional: it is drawn hollow and not tested.</summary>
    public const double Least = 0.9;

    /// <summary>Records that are still to come.</summary>
    public double ToCome => (Records / Expected) - Records;
}
