using Outcomes.Analysis;

namespace Outcomes.Reporting.Page;

/// <summary>Did our change help? Each declared change with what it should have moved, before and after.</summary>
internal static class ChangesSection
{
    private static readonly TableColumn[] Columns =
    [
        "Change", "Measure", "Before", "After", "Difference (95 % interval)", "What it says",
    ];

    private static readonly TableColumn[] SegmentColumns =
    [
        "Change", "Measure", TableColumn.Num("Trend a month before"), TableColumn.Num("Level at the change"),
        TableColumn.Num("Trend after over before"), "Last month", "How far to trust it",
    ];

    public static void Write(Html html, Figures model)
    {
        if (model.Changes.IsEmpty)
            return;
        html.Add($"""<section aria-labelledby="changes"><h2 id="changes">Did our changes help?</h2>""");
        html.Add($"<p>Whole months before a declared change, at most 12, against whole months since; "
            + $"a month that the change divides belongs to neither. The difference is after minus before. It adjusts for nothing.</p>");
        Table.Write(html, "t-changes", "Declared changes, before and after", Columns, () =>
        {
            foreach (var each in model.Changes)
                Table.Row(html, Columns, $"{Wording.Date(each.Change.Date)}: {each.Change.What}",
                    $"{each.Measure.Title}, expected {(each.Change.Expect == Measures.Catalogue.Direction.Up ? "up" : "down")}",
                    Side(each.Before, each.BeforeCount, each.Measure.Per), Side(each.After, each.AfterCount, each.Measure.Per),
                    each.Difference is { } difference ? ChangeWording.Difference(difference) : "", ChangeWording.Said(each));
        }, "wordy");
        Segments(html, [.. model.Changes.Where(each => each.Segments is not null)]);
        html.Add($"<p>{ChangeWording.CannotRuleOut}</p>");
        html.Add($"</section>\n");
    }

    private static void Segments(Html html, List<ChangeEvaluation> changes)
    {
        if (changes.Count == 0)
            return;
        html.Add($"<p>{ChangeWording.SegmentsExplained}</p>");
        Table.Write(html, "t-segments", "Declared changes, level and trend", SegmentColumns, () =>
        {
            foreach (var each in changes)
                Table.Row(html, SegmentColumns, $"{Wording.Date(each.Change.Date)}: {each.Change.What}", each.Measure.Title,
                    Odds(each.Segments!.TrendBefore), Odds(each.Segments.Level), Odds(each.Segments.Trend),
                    ChangeWording.AtEnd(each.Segments, each.Measure.Per), ChangeWording.Trusted(each.Segments));
        }, "wordy");
    }

    private static string Odds(Statistics.FittedOdds? odds) =>
        odds is null ? "no answer" : Wording.Ratio(odds.Value, odds.Lower, odds.Upper);

    private static string Side((Records.Month From, Records.Month To)? span, Statistics.Count count, int per) =>
        span is not var (from, to) ? "no whole month"
            : count.Eligible == 0 ? $"{Wording.Span(from, to)}: none eligible"
            : $"{Wording.Span(from, to)}: {Wording.Fraction(count)}, {Wording.Rate(count.Met / (double)count.Eligible, per)}";
}
