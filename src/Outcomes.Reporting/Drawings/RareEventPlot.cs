using Outcomes.Analysis;
using Outcomes.Records;
using ScottPlot;

namespace Outcomes.Reporting.Drawings;

/// <summary>
/// Draws the events of a rare measure as a row in time, with the number of cases from each one to the next above the line: how close they
/// lie is seen at once. A black diamond stands over an event whose gap lies outside the limits after the baseline.
/// </summary>
internal static class RareEventPlot
{
    public const int Width = 840, Tall = 178;
    private const double Left = 12, Right = Width - 12, Axis = 108;

    /// <summary>Fewer events than this are told by the table alone.</summary>
    private const int Enough = 3;

    /// <summary>A place on the axis: the event's month, in months from the start, and the cases up to it; null for the first.</summary>
    private readonly record struct Event(double X, long? Cases, bool Beyond);

    public static string Id(RareEvents events) => "rare_" + events.Measure.Id;

    public static bool Draws(RareEvents events) => events is { ToldUnder: null, Chart: not null, Count.Met: >= Enough };

    public static string Title(RareEvents events) => $"Events in time: {RareWording.Event(events)}";

    public static void Draw(Sheet sheet, RareEvents events)
    {
        var months = events.To.MonthsSince(events.From) + 1;
        double X(double month) => Left + ((Right - Left) * month / months);

        sheet.Text(RunChartPlot.Cut(Title(events), 74), 0, 15, 18, Ink.Black, bold: true);
        sheet.Text($"Dots: events, {Wording.Span(events.From, events.To)}. Numbers: cases from one event to the next.", 0, 39, 13,
            Ink.Quiet);
        Years(sheet, events.From, months, X);
        Baseline(sheet, events, X);
        var row = Row(events);
        foreach (var (before, at) in row.Zip(row.Skip(1)))
            Number(sheet, at.Cases, X(before.X), X(at.X));
        foreach (var each in row)
        {
            sheet.Dot(X(each.X), Axis, 8, Ink.Accent, hollow: false);
            if (each.Beyond)
                sheet.Diamond(X(each.X), Axis - 40, 5, Ink.Black);
        }

        if (row.Count > 0 && events.Since is { } since)
            Number(sheet, since.Cases, X(row[^1].X), Right);
        sheet.Text(row.Any(each => each.Beyond) ? "Diamond: outside the limits after the baseline."
            : RareWording.Limits(events.Chart) is null ? "Too few gaps in the baseline for limits."
            : "No gap after the baseline lies outside "
                + "the limits.", 0, Tall - 12, 11.5f, Ink.Quiet);
    }

    public static string Describe(RareEvents events)
    {
        var gaps = events.Gaps.Select(gap => $"{Wording.Number(gap.Cases)} "
            + $"in {Wording.Abbreviated(gap.Month)}{(gap.Days is { } days ? $" ({Wording.Some(days, "day")})" : "")}");
        return $"{Title(events)}. {Wording.Number(events.Count.Met)} events in {Wording.Some(events.Count.Eligible, "case")}. "
            + $"Gaps: {string.Join(", ", gaps)}. "
            + $"Since the last: {Wording.Some(events.Since?.Cases ?? 0, "case")}. {RareWording.Bound(events)}";
    }

    // Only the month of an event is known: those of one month share it out.
    private static List<Event> Row(RareEvents events)
    {
        if (events.First is not { } first)
            return [];
        (Month Month, long? Cases, bool Beyond)[] all =
        [
            (first.Month, null, false),
            .. events.Gaps.Select((gap, i) => (gap.Month, (long?)gap.Cases,
                events.Chart is { } chart && i < chart.Points.Length && chart.Points[i] is { Beyond: true, InBaseline: false })),
        ];
        return [.. all.GroupBy(each => each.Month).SelectMany(month => month.Select((each, i) =>
            new Event(each.Month.MonthsSince(events.From) + ((i + 1.0) / (month.Count() + 1)), each.Cases, each.Beyond)))];
    }

    private static void Years(Sheet sheet, Month from, int months, Func<double, double> x)
    {
        sheet.Line(Left, Axis, Right, Axis, Ink.Quiet);
        for (var i = 0; i < months; i++)
        {
            var month = from.AddMonths(i);
            var january = month.Number == 1;
            sheet.Line(x(i), Axis, x(i), Axis + (january ? 12 : 5), Ink.Quiet);
            if (january || i == 0)
                sheet.Text(january ? $"{month.Year}" : Wording.Abbreviated(month), x(i) + 3, Axis + 18, 12, Ink.Quiet);
        }
    }

    private static void Baseline(Sheet sheet, RareEvents events, Func<double, double> x)
    {
        var (from, to) = (events.Baseline.From.MonthsSince(events.From), events.Baseline.To.MonthsSince(events.From) + 1);
        if (to <= 0)
            return;
        sheet.Line(x(Math.Max(from, 0)), Axis + 32, x(to), Axis + 32, Ink.Quiet, 2);
        sheet.Text("baseline", x(Math.Max(from, 0)), Axis + 42, 11.5f, Ink.Quiet);
    }

    // Left out where there is no room: the table has every gap.
    private static void Number(Sheet sheet, long? cases, double from, double to)
    {
        if (cases is { } number && Wording.Number(number) is var text && to - from >= (text.Length * 7) + 6)
            sheet.Text(text, (from + to) / 2, Axis - 18, 12, Ink.Black, Alignment.MiddleCenter);
    }
}
