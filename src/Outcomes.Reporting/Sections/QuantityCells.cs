using Outcomes.Analysis;

namespace Outcomes.Reporting.Page;

/// <summary>
/// A quantity in the cells of a table: median with its interval, quartiles, and how many values they rest on. Few values are
/// counted, never shown.
/// </summary>
internal static class QuantityCells
{
    public static readonly TableColumn[] Columns =
    [
        TableColumn.Num("With a value / without"), TableColumn.Num("Median (95 % interval)"), TableColumn.Num("Quartiles")
    ];

    public static string[] Of(QuantitySummary? summary, long n, long missing, long unrecordable) =>
        [
            $"{Wording.Number(n)} / {Missing(missing, unrecordable)}",
            .. summary is null || n < StratumFigures.LeastRecords ? [n == 0 ? "no value" : "too few", ""] : Values(summary)
        ];

    /// <summary>
    /// Records without a value, and apart from them those whose reading was too low to measure: the worst are not unknown.
    /// </summary>
    public static string Missing(long missing, long unrecordable) =>
        Wording.Number(missing) + (unrecordable == 0 ? "" : $", and {Wording.Number(unrecordable)} too low to measure");

    private static string[] Values(QuantitySummary summary) =>
    [
        $"{Wording.Quantity(summary.Median, summary.Decimals)} ({Interval(summary, 1)})",
        Wording.QuantityRange(summary.LowerQuartile, summary.UpperQuartile, summary.Decimals),
    ];

    /// <summary>The interval of one of <see cref="QuantitySummary.Parts"/>; too few values leave an end open.</summary>
    public static string Interval(QuantitySummary? summary, int part) => summary?.Estimates[part] switch
    {
        null => "",
        { Lower: { } lower, Upper: { } upper } => Wording.QuantityRange(lower, upper, summary.Decimals),
        { Lower: { } lower } => $"{Wording.Quantity(lower, summary.Decimals)} or more",
        { Upper: { } upper } => $"{Wording.Quantity(upper, summary.Decimals)} or less",
        _ => "too few values",
    };
}
