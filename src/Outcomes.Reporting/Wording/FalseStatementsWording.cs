using System.Globalization;
using Outcomes.Analysis;

namespace Outcomes.Reporting;

/// <summary>How often the whole report would speak of change by chance.</summary>
public static class FalseStatementsWording
{
    /// <summary>A sentence or two.</summary>
    public static string Say(FalseStatements expected)
    {
        ArgumentNullException.ThrowIfNull(expected);
        (string Name, double Number)[] parts =
        [
            ("monthly tests", expected.MonthlyTests), ("planned evaluations", expected.Evaluations),
            ("yearly comparisons of rare events", expected.YearlyComparisons),
        ];
        return $"If nothing changed, this whole report would still make about {Two(expected.Total)} false statements of change a year"
            + $" ({string.Join(", ", parts.Where(part => part.Number > 0).Select(part => $"{part.Name} {Two(part.Number)}"))})."
            .Replace(" ()", "", StringComparison.Ordinal);
    }

    private static string Two(double number) => number is > 0 and < 0.005 ? "<0.01" : number.ToString("0.00", CultureInfo.InvariantCulture);
}
