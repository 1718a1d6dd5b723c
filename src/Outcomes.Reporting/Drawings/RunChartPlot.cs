using ScottPlot;

namespace Outcomes.Reporting.Drawings;

/// <summary>
/// Draws a run chart: points and a thin line, broken where a month has no cases; whiskers for the intervals; the baseline's median,
/// solid over the baseline and dashed after it; n under each point; a black bar with words over a run that signals.
/// </summary>
internal static class RunChartPlot
{
    public const int Width = 840;
    private const int Plain = 400, Line = 17;
    private const double Left = 58, Right = Width - 104, Top = 92, Bottom = 290;

    /// <summary>More points than this are drawn smaller.</summary>
    private const int Many = 60;

    /// <summary>A line more for each declared change.</summary>
    public static int Height(RunChartDrawing chart) => Plain + (chart.Changes.Length * Line);

    public static void Draw(Sheet sheet, RunChartDrawing chart)
    {
        double X(double months) => Left + ((Right - Left) * months / Math.Max(chart.Months, 1));
        double Y(double value) => Bottom - ((Bottom - Top) * value / chart.Top);

        var scale = chart.Points.Length > Many ? 0.6f : 1;
        var every = Every(chart);

        sheet.Text(Cut(chart.Title, 74), 0, 15, 18, Ink.Black, bold: true);
        sheet.Text(Cut(chart.Subtitle, 120), 0, 39, 13, Ink.Quiet);
        Axis(sheet, chart, Y);
        Labels(sheet, chart, X, every);
        foreach (var phase in chart.Phases)
            Median(sheet, chart, phase, X, Y);
        foreach (var point in chart.Points)
        {
            if (point.Interval is not { } interval)
                continue;
            sheet.Line(X(point.X), Y(interval.Lower), X(point.X), Y(Math.Min(interval.Upper, chart.Top)), Ink.Tint, 1.5f * scale);
            if (interval.Upper > chart.Top)
                sheet.Tip(X(point.X), Top - 7, 0, -1, Ink.Tint);
        }

        foreach (var stretch in Stretches(chart))
            sheet.Path([.. stretch.Select(point => (X(point.X), Y(point.Value!.Value)))], Ink.Accent, 1.4f);
        foreach (var point in chart.Points)
        {
            if (point.Value is { } value)
                sheet.Dot(X(point.X), Y(value), (point.Hollow ? 7 : 7.5f) * scale, Ink.Accent, point.Hollow);
        }

        Signal(sheet, chart, X);
        Changes(sheet, chart, X);
        sheet.Text("Bars: 95 % intervals (Wilson). Hollow: fewer than 5 cases. No point: no cases, never zero."
            + (every > 1 ? $" n and month at every {every}{(every == 2 ? "nd" : every == 3 ? "rd" : "th")} point." : ""), 0, Plain - 12, 11.5f, Ink.Quiet);
    }

    /// <summary>Points that a line may join: neighbours with values.</summary>
    internal static IEnumerable<IReadOnlyList<DrawnPoint>> Stretches(RunChartDrawing chart)
    {
        var stretch = new List<DrawnPoint>();
        foreach (var point in chart.Points)
        {
            if (point.Value is not null)
            {
                stretch.Add(point);
            }
            else if (stretch.Count > 0)
            {
                yield return stretch;
                stretch = [];
            }
        }

        if (stretch.Count > 0)
            yield return stretch;
    }

    private static void Axis(Sheet sheet, RunChartDrawing chart, Func<double, double> y)
    {
        // Ends at 2 or 20 divide into quarters, the others into fifths.
        var steps = chart.Top is 0.02 or 0.2 ? 4 : 5;
        for (var i = 0; i <= steps; i++)
        {
            var value = chart.Top * i / steps;
            sheet.Line(Left, y(value), Right, y(value), i == 0 ? Ink.Quiet : Ink.Grid);
            sheet.Text(Tick(value * chart.Per, i == steps && chart.Per == 100), Left - 8, y(value), 12, Ink.Quiet, Alignment.MiddleRight);
        }

        if (chart.Top < 1)
        {
            // Two strokes above the last mark: the scale goes on.
            sheet.Line(Left - 21, Top - 12, Left - 9, Top - 17, Ink.Black, 1.3f);
            sheet.Line(Left - 21, Top - 17, Left - 9, Top - 22, Ink.Black, 1.3f);
        }
    }

    private static string Tick(double value, bool percent) =>
        Math.Round(value, 6).ToString("0.##", System.Globalization.CultureInfo.InvariantCulture) + (percent ? Wording.Space + "%" : "");

    /// <summary>Labels stand at every so many points that neither months nor numbers run into each other.</summary>
    private static int Every(RunChartDrawing chart)
    {
        var digits = Math.Max(2, Digits(chart.Points.Select(point => point.N).DefaultIfEmpty().Max()).Length);
        return Math.Max(1, (int)Math.Ceiling(chart.Points.Length * ((digits * 6.5) + 3) / (Right - Left)));
    }

    private static void Labels(Sheet sheet, RunChartDrawing chart, Func<double, double> x, int every)
    {
        sheet.Text("n", Left - 8, Bottom + 13, 11.5f, Ink.Quiet, Alignment.MiddleRight);
        for (var i = 0; i < chart.Points.Length; i++)
        {
            // The last point always has its label.
            if ((chart.Points.Length - 1 - i) % every != 0)
                continue;
            var point = chart.Points[i];
            sheet.Text(Digits(point.N), x(point.X), Bottom + 13, 10.5f, Ink.Black, Alignment.MiddleCenter);
            sheet.Text(point.Label, x(point.X), Bottom + 27, 11, Ink.Quiet, Alignment.MiddleRight, rotation: -60);
        }
    }

    private static string Digits(long number) => number.ToString(System.Globalization.CultureInfo.InvariantCulture);

    private static void Median(Sheet sheet, RunChartDrawing chart, DrawnPhase phase, Func<double, double> x, Func<double, double> y)
    {
        if (phase.Median is not { } median)
            return;
        var (start, end) = (x(phase.From), x(phase.To));
        var (from, to) = (x(phase.Baseline.From), Math.Min(x(phase.Baseline.From + phase.Baseline.Months), end));
        if (from > start)
            sheet.Line(start, y(median), from, y(median), Ink.Black, 1.2f, LinePattern.Dashed);
        sheet.Line(from, y(median), to, y(median), Ink.Black, 1.6f);
        if (to < end)
            sheet.Line(to, y(median), end, y(median), Ink.Black, 1.2f, LinePattern.Dashed);
        Bar(sheet, from, to, Top - 10, Ink.Quiet, 1);
        // An earlier phase has no room at the right for its median: it stands by its baseline.
        var last = phase.To == chart.Months;
        sheet.Text(last ? "baseline" : $"baseline: median {Wording.Short(median, chart.Per)}", from + 5, Top - 20, 11, last ? Ink.Quiet : Ink.Black);
        if (!last)
            return;
        sheet.Text("baseline median", Right + 6, y(median) - 8, 11.5f, Ink.Black);
        sheet.Text(Wording.Short(median, chart.Per), Right + 6, y(median) + 8, 13, Ink.Black, bold: true);
    }

    // What was declared: a line at its date with a letter, and the words under the drawing.
    private static void Changes(Sheet sheet, RunChartDrawing chart, Func<double, double> x)
    {
        for (var i = 0; i < chart.Changes.Length; i++)
        {
            var change = chart.Changes[i];
            sheet.Line(x(change.X), Top - 4, x(change.X), Bottom, Ink.Black, 1, LinePattern.Dotted);
            sheet.Text(change.Mark, x(change.X) + 4, Bottom - 8, 12, Ink.Black, bold: true);
            sheet.Text(Cut($"{change.Mark}  {change.Words}", 120), 0, Plain + (i * Line) + 2, 11.5f, Ink.Black);
        }
    }

    private static void Signal(Sheet sheet, RunChartDrawing chart, Func<double, double> x)
    {
        if (chart.Signal is not var (start, end, at, words))
            return;
        var (from, to) = (x(start), x(end));
        Bar(sheet, from, to, Top - 28, Ink.Black, 2.4f);
        if (at is { } month)
            sheet.Diamond(x(month), Top - 28, 6, Ink.Black);
        // A long text over a short run near an edge stays on the sheet.
        var right = Math.Max(to, at is { } found ? x(found) : to);
        var alignment = (from + right) / 2 > (Left + Right) / 2 ? Alignment.MiddleRight : Alignment.MiddleLeft;
        sheet.Text(words, alignment == Alignment.MiddleRight ? right : from, Top - 42, 12, Ink.Black, alignment, bold: true);
    }

    private static void Bar(Sheet sheet, double from, double to, double y, Color color, float width)
    {
        sheet.Line(from, y, to, y, color, width);
        sheet.Line(from, y - 1, from, y + 5, color, width);
        sheet.Line(to, y - 1, to, y + 5, color, width);
    }

    internal static string Cut(string text, int most) => text.Length <= most ? text : string.Concat(text.AsSpan(0, most - 1), "…");
}
