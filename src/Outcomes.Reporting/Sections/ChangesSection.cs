using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Reporting.Page;

/// <summary>Did our change help? Each declared change with what it should have moved, before and after.</summary>
internal static class ChangesSection
{
    private static readonly TableColumn[] Columns =
    [
        "Change", "Measure", "Before", "After", "Difference", "Verdict now",
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
        html.Add($"<p>Each declared change is evaluated once, on the date that was fixed when it was declared: "
            + $"the whole months since against "
            + $"the whole months before, at most 12; a month that the change divides belongs to neither. Until then there are counts only. "
            + $"The result stays as it was; later months belong to the monthly test. Intervals allow for months that "
            + $"vary, and not for other patients; the measures of one change share their 5{Wording.Space}% of chance.</p>");
        Evaluated(html, model);
        Segments(html, [.. model.Changes.Where(each => each.Segments is not null)]);
        html.Add($"<p>{ChangeWording.CannotRuleOut}</p>");
        html.Add($"</section>\n");
    }

    /// <summary>Each change with its one evaluation, for a side of the report.</summary>
    public static void WriteShort(Html html, Figures model)
    {
        html.Add($"<h3>Declared changes</h3>");
        if (model.Changes.IsEmpty)
        {
            html.Add($"<p>No change of practice has been declared. One that is declared in <code>changes.yaml</code> is evaluated once, "
                + $"on a date fixed beforehand.</p>");
            return;
        }

        html.Add($"<p>Each is evaluated once, on the date fixed when it was declared. The result stays; later months belong to the "
            + $"monthly test.</p>");
        Evaluated(html, model);
        html.Add($"<p>{ChangeWording.CannotRuleOut}</p>");
    }

    private static void Evaluated(Html html, Figures model)
    {
        Table.Write(html, "t-changes", "Declared changes, before and after", Columns, () =>
        {
            foreach (var each in model.Changes)
                Table.Row(html, Columns, $"{Wording.Date(each.Change.Date)}: {each.Change.What}",
                    $"{each.Measure.Title}, expected {Expected(each.Change.Expect)}",
                    Side(each, each.Before, each.BeforeCount), Side(each, each.After, each.AfterCount),
                    each.Difference is { } difference ? ChangeWording.Difference(difference) : ChangeWording.Why(each),
                    Verdict(model, each));
        }, "wordy");
        foreach (var moved in model.Changes.Select(each => each.Change).Where(change => change.EarlierPlan is not null).Distinct())
            html.Add($"<p><strong>{ChangeWording.MovedDate(moved)}</strong></p>");
    }

    private static string Verdict(Figures model, ChangeEvaluation each) =>
        model.Measures.FirstOrDefault(measure => measure.Measure.Id == each.Measure.Id)?.Verdict is { } verdict
            ? VerdictWording.Label(verdict) : "";

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

    private static string Expected(Direction expect) => expect switch
    {
        Direction.Up => "up",
        Direction.Down => "down",
        _ => "to stay the same",
    };

    private static string Side(ChangeEvaluation each, (Records.Month From, Records.Month To)? span, Statistics.Count count) =>
        span is not var (from, to) ? "no whole month"
            : count.Eligible == 0 ? $"{Wording.Span(from, to)}: none eligible"
            : each.State == EvaluationState.Waiting ? $"{Wording.Span(from, to)}: {Wording.Fraction(count)}"
            : $"{Wording.Span(from, to)}: {Wording.Fraction(count)}, {Wording.Rate(count.Met / (double)count.Eligible, each.Measure.Per)}";
}
