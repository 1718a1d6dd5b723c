using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Records;

namespace Outcomes.Ingestion;

/// <summary>A row of an earlier release's <c>counts.csv</c>.</summary>
public sealed record PublishedCount(
    string Measure, Month From, Month To, string Stratum, string Level, long Met, long Eligible, long Missing);

/// <summary>Reads <c>tables/counts.csv</c> of an earlier run.</summary>
public static class PublishedCounts
{
    private static readonly string[] Columns = ["measure", "period", "stratum", "level", "met", "eligible", "missing"];

    /// <exception cref="Failure">The file is missing, or is not such a table (exit 4).</exception>
    public static ImmutableArray<PublishedCount> Read(string path, string shown) =>
        [.. PublishedTable.Rows(path, Columns, () => NotOurs(shown)).Select(cells => Row(cells, shown))];

    private static PublishedCount Row(string[] cells, string shown)
    {
        var period = cells[1].Split('/');
        return ReportedTime.TryParse(period[0], out Month from) && ReportedTime.TryParse(period[^1], out Month to)
            && Whole(cells[4], out var met)
            && Whole(cells[5], out var eligible) && Whole(cells[6], out var missing)
            ? new PublishedCount(cells[0], from, to, cells[2], FormulaGuard.Off(cells[3]), met, eligible, missing)
            : throw NotOurs(shown);
    }

    private static bool Whole(string text, out long number) =>
        long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out number);

    private static Failure NotOurs(string shown) =>
        new(ExitCode.Input, "the counts of the earlier report are missing or cannot be read; name a folder that `outcomes run` wrote, "
            + "with --previous", shown);
}
