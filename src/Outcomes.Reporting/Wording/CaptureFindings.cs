using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Records;

namespace Outcomes.Reporting;

/// <summary>What independent counts show about months, as findings.</summary>
public static class CaptureFindings
{
    /// <summary>Months that captured less than 80 %, or more than was counted: findings to look at, at the count's line.</summary>
    public static IEnumerable<Finding> Write(IndependentCounts counts, CaptureFigures report)
    {
        foreach (var month in report.Months.Where(month => month.Counted > 0 && (month.Low || month.High)))
            yield return new Finding(
                month.Low ? "capture_low" : "capture_high", Severity.Warn, counts.File,
                counts.Counts.First(count => count.Month == month.From).Line, "count", "",
                string.Create(CultureInfo.InvariantCulture,
                    $"{month.From}: {month.Records} records of {month.Counted} counted ({month.Source}). ")
                + (month.Low
                    ? "Fewer than 80 % were recorded; ask who was not entered before reading the month's figures."
                    : "More were recorded than counted; check the count, and records that are double or belong to "
                        + "another month or place."));
    }
}
