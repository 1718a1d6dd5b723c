using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>The share of procedures that were recorded, in months in which it fell, and before.</summary>
/// <param name="Records">Records since.</param>
/// <param name="Counted">Procedures counted since.</param>
/// <param name="RecordsBefore">Records before.</param>
/// <param name="CountedBefore">Procedures counted before.</param>
public sealed record CaptureFall(long Records, long Counted, long RecordsBefore, long CountedBefore)
{
    // A tenth less is judgement.
    private const double Kept = 0.9;

    /// <summary>
    /// The fall from some months to later ones: null unless more than a tenth of the share was lost. Only months with a count take part.
    /// </summary>
    public static CaptureFall? Find(CaptureFigures? capture, (Month From, Month To) before, (Month From, Month To) since)
    {
        if (capture is null)
            return null;
        var (past, now) = (Sum(before), Sum(since));
        return past.Counted > 0 && now.Counted > 0 && now.Records * (double)past.Counted < Kept * past.Records * now.Counted
            ? new(now.Records, now.Counted, past.Records, past.Counted) : null;

        (long Records, long Counted) Sum((Month From, Month To) span)
        {
            var months = capture.Months.Where(month => month.From >= span.From && month.From <= span.To).ToArray();
            return (months.Sum(month => month.Records), months.Sum(month => month.Counted));
        }
    }
}
