using Outcomes.Analysis;
using Outcomes.Statistics;
using ScottPlot;

namespace Outcomes.Reporting.Drawings;

/// <summary>
/// Draws cases from one event to the next, and days below them: a stem an event, as tall as its gap; the open one hollow; limits
/// dashed, with words.
/// </summary>
internal static class RareEventPlot
{
    public const int Width = 840;
    private const double Left = 58, Right = Width - 104, Top = 66, Tall = 112, Step = 168;

    /// <summary>Fewer events than this are told by the table alone.</summary>
    private const int Enough = 3;

    /// <summary>More stems than this are drawn without their numbers.</summary>
    private const int Many = 40;

    public static int Height(RareEvents events) => (int)(Top + Tall + 50 + (events.DaysChart is null ? 0 : Step));

    public static string Id(RareEvents events) => "rare_" + events.Measure.Id;

    public static bool Draws(RareEvents events) => events is { ToldUnder: null, Chart: not null, Count.Met: >= Enough };

    public static string Title(RareEvents events) =>
        $"{(events.DaysChart is null ? "Cases" : "Cases and days")} between events: {RareWording.Event(events)}";

    public static void Draw(Sheet sheet, RareEvents events)
    {
        sheet.Text(RunChartPlot.Cut(Title(events), 74), 0, 15, 18, Ink.Black, bold: true);
        sheet.Text($"Cases up to and including each event, {Wording.Span(events.From, events.To)} · hollow: since the last one, "
            + $"can still grow", 0, 39, 13, Ink.Quiet);
        Stems(sheet, events.Chart!, Top);
        if (events.DaysChart is { } days)
        {
            sheet.Text("Days from each event to the next", 0, Top + Step - 19, 13, Ink.Quiet);
            Stems(sheet, days, Top + Step);
        }

        sheet.Text($"Events in order of time, from the second of {Wording.Number(events.Count.Met)} on. " +
            (RareWording.Limits(events.Chart) is null
                ? "Too few gaps in the baseline for limits."
                : "Diamond: outside the limits after the baseline."), 0, Height(events) - 14, 11.5f, Ink.Quiet);
    }

    public static string Describe(RareEvents events)
    {
        var gaps = events.Gaps.Select(gap => $"{Wording.Number(gap.Cases)} "
            + $"in {Wording.Abbreviated(gap.Month)}{(gap.Days is { } days ? $" ({Wording.Some(days, "day")})" : "")}");
        return $"{Title(events)}. {Wording.Number(events.Count.Met)} events in {Wording.Some(events.Count.Eligible, "case")}. "
            + $"Gaps: {string.Join(", ", gaps)}. "
            + $"Since the last: {Wording.Some(events.Since?.Cases ?? 0, "case")}. {RareWording.Bound(events)}";
    }

    private static void Stems(Sheet sheet, ControlChart chart, double head)
    {
        var bottom = head + Tall;
        var limits = RareWording.Limits(chart);
        // A limit far above every gap would press the gaps flat: then words tell it.
        var most = Math.Max(chart.Points.Max(point => point.Value ?? 0), 4);
        var shown = limits is { Upper: var limit } && limit <= 3 * most ? limit : 0;
        var top = Ceiling(Math.Max(most, shown));
        var step = (Right - Left) / chart.Points.Length;
        double X(int position) => Left + (step * (position + 0.5));
        double Y(double value) => bottom - (Tall * Math.Min(value, top) / top);

        for (var i = 0; i <= 4; i += 2)
        {
            sheet.Line(Left, Y(top * i / 4), Right, Y(top * i / 4), i == 0 ? Ink.Quiet : Ink.Grid);
            sheet.Text(Wording.Quantity(top * i / 4), Left - 8, Y(top * i / 4), 12, Ink.Quiet, Alignment.MiddleRight);
        }

        if (limits is { } ends)
        {
            if (ends.Upper <= top)
                Level(sheet, Y(ends.Upper), "upper limit");
            else
                sheet.Text($"limit {Wording.Number((long)ends.Upper)}", Right + 6, head, 12, Ink.Black);
            if (ends.Lower > 1)
                Level(sheet, Y(ends.Lower), "lower limit");
        }

        foreach (var point in chart.Points)
        {
            var value = point.Value ?? 0;
            sheet.Line(X(point.Position), bottom, X(point.Position), Y(value), Ink.Tint, 2);
            sheet.Dot(X(point.Position), Y(value), 7.5f, Ink.Accent, point.Open);
            if (point.Beyond && !point.InBaseline)
                sheet.Diamond(X(point.Position), Y(value) - 12, 5, Ink.Black);
            if (chart.Points.Length <= Many)
                sheet.Text(Wording.Number((long)value), X(point.Position), bottom + 13, 11.5f, Ink.Quiet, Alignment.MiddleCenter);
        }
    }

    private static void Level(Sheet sheet, double y, string words)
    {
        sheet.Line(Left, y, Right, y, Ink.Black, 1.2f, LinePattern.Dashed);
        sheet.Text(words, Right + 6, y, 12, Ink.Black);
    }

    /// <summary>The least of 1, 2, 4 or 8 tens that holds the value: quarters of it are whole from 4 on.</summary>
    private static double Ceiling(double value)
    {
        for (double ten = 1; ; ten *= 10)
            foreach (var digit in new[] { 1, 2, 4, 8 })
                if (digit * ten >= value && digit * ten >= 4)
                    return digit * ten;
    }
}
