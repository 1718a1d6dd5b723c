using ScottPlot;

namespace Outcomes.Reporting.Drawings;

/// <summary>
/// Draws a run chart: points and a thin line, broken where a month has no cases; whiskers for the intervals; the baseline's median,
/// solid over the baseline and dashed after it; n under each point; a black bar with words over a run that signals.
/// </summary>
internal static class RunChartPlot
{
    public const int Width = 840;
    private const int Plain = 300, Line = 17;
    private const double SlidesLine = 24;

    /// <summary>Where things stand, and how many times larger than on a page the words are.</summary>
    private readonly record struct Layout(double Left, double Right, double Top, double Bottom, double Foot, float Grow, bool Slide);

    private static readonly Layout Page = new(58, Width - 104, 82, 258, Plain, 1, false);

    /// <summary>More points than this are drawn smaller.</summary>
    private const int Many = 60;

    /// <summary>
    /// A line more for each declared change. Title, verdict and the key of the marks stand in the page's own words, once: the first line is
    /// left free and cut off there.
    /// </summary>
    public static int Height(RunChartDrawing chart) => Plain + (chart.Changes.Length * Line);

    public static void Draw(Sheet sheet, RunChartDrawing chart) => Draw(sheet, chart, Page);

    /// <summary>
    /// The same chart on a slide: fewer and larger words, one line of its subtitle for what is drawn and one for what it says.
    /// </summary>
    public static void DrawSlide(Sheet sheet, RunChartDrawing chart)
    {
        var foot = Slide.Height - (Math.Max(chart.Changes.Length, 1) * SlidesLine) + 10;
        Draw(sheet, chart, new(84, Slide.Width - 152, 154, foot - 96, foot, 1.45f, true));
    }

    private static void Draw(Sheet sheet, RunChartDrawing chart, Layout at)
    {
        var (left, right, top, bottom, foot, grow, slide) = at;
        double X(double months) => left + ((right - left) * months / Math.Max(chart.Months, 1));
        double Y(double value) => bottom - ((bottom - top) * value / chart.Top);

        var scale = chart.Points.Length > Many ? 0.6f : 1;
        if (slide)
        {
            sheet.Text(Cut(chart.Title, 74), 0, 15 * grow, Slide.TitleSize(chart.Title), Ink.Black, bold: true);
            foreach (var (i, line) in Halves(chart.Subtitle).Index())
                sheet.Text(line, 0, (39 * grow) + (i * SlidesLine), 13 * grow, i == 0 ? Ink.Quiet : Ink.Black);
        }

        Axis(sheet, chart, Y, at);
        Labels(sheet, chart, X, at);
        Level(sheet, chart, X, Y, grow);
        foreach (var phase in chart.Phases)
            Median(sheet, chart, phase, X, Y, at);
        foreach (var point in chart.Points)
        {
            if (point.Interval is not { } interval)
                continue;
            sheet.Line(X(point.X), Y(interval.Lower), X(point.X), Y(Math.Min(interval.Upper, chart.Top)), Ink.Tint, 1.5f * scale * grow);
            if (interval.Upper > chart.Top)
                sheet.Tip(X(point.X), top - 7, 0, -1, Ink.Tint);
        }

        foreach (var stretch in Stretches(chart))
            sheet.Path([.. stretch.Select(point => (X(point.X), Y(point.Value!.Value)))], Ink.Accent, 1.4f * grow);
        Run(sheet, chart, X, Y, grow);
        foreach (var point in chart.Points)
        {
            if (point.Value is { } value)
                sheet.Dot(X(point.X), Y(value), (point.Hollow ? 7 : 7.5f) * scale * grow, Ink.Accent, point.Hollow);
        }

        Signal(sheet, chart, X, at);
        Changes(sheet, chart, X, at);
        if (slide)
            sheet.Text("Bars: 95 % intervals. Hollow: fewer than 5 cases, or provisional. No point: no cases, never zero.", 0,
                foot - (12 * grow), 11.5f * grow, Ink.Quiet);
    }

    // The points of a run that met the rule are joined by a heavier line.
    private static void Run(Sheet sheet, RunChartDrawing chart, Func<double, double> x, Func<double, double> y, float grow)
    {
        if (chart.Run is not var (first, last))
            return;
        sheet.Path([.. chart.Points[first..(last + 1)].Where(point => point.Value is not null)
            .Select(point => (x(point.X), y(point.Value!.Value)))], Ink.Accent, 3.6f * grow);
    }

    // The likeliest level of each month with its 80 % range, under everything else.
    private static void Level(Sheet sheet, RunChartDrawing chart, Func<double, double> x, Func<double, double> y, float grow)
    {
        if (chart.Levels.IsEmpty)
            return;
        double Within(double value) => y(Math.Min(value, chart.Top));
        foreach (var end in (Func<DrawnLevel, double>[])[level => level.Likely.Lower, level => level.Likely.Upper])
            sheet.Path([.. chart.Levels.Select(level => (x(level.Month + 0.5), Within(end(level))))], Ink.Faint, 0.8f * grow);
        sheet.Path([.. chart.Levels.Select(level => (x(level.Month + 0.5), Within(level.Value)))], Ink.Quiet, 1.6f * grow);
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

    private static void Axis(Sheet sheet, RunChartDrawing chart, Func<double, double> y, Layout at)
    {
        var (left, right, top, _, _, grow, _) = at;
        // Ends at 2 or 20 divide into quarters, the others into fifths.
        var steps = chart.Top is 0.02 or 0.2 ? 4 : 5;
        for (var i = 0; i <= steps; i++)
        {
            var value = chart.Top * i / steps;
            sheet.Line(left, y(value), right, y(value), i == 0 ? Ink.Quiet : Ink.Grid);
            sheet.Text(Tick(value * chart.Per, i == steps && chart.Per == 100), left - 8, y(value), 12 * grow,
                Ink.Quiet, Alignment.MiddleRight);
        }

        if (chart.Top < 1)
        {
            // Two strokes above the last mark: the scale goes on.
            sheet.Line(left - 21, top - 12, left - 9, top - 17, Ink.Black, 1.3f);
            sheet.Line(left - 21, top - 17, left - 9, top - 22, Ink.Black, 1.3f);
        }
    }

    private static string Tick(double value, bool percent) =>
        Math.Round(value, 6).ToString("0.##", System.Globalization.CultureInfo.InvariantCulture) + (percent ? Wording.Space + "%" : "");

    /// <summary>Labels stand at every so many points that neither months nor numbers run into each other.</summary>
    // n stands under every point at any size: turned, and smaller, where there is no room beside each other. Months may be left out.
    private static void Labels(Sheet sheet, RunChartDrawing chart, Func<double, double> x, Layout at)
    {
        var (left, right, _, bottom, _, grow, _) = at;
        var step = (right - left) / Math.Max(chart.Points.Length, 1);
        var digits = Math.Max(2, Digits(chart.Points.Select(point => point.N).DefaultIfEmpty().Max()).Length);
        var turned = (digits * 6.5 * grow) + 3 > step;
        var size = (float)Math.Min(10.5 * grow, turned ? step * 1.05 : double.MaxValue);
        // A year of months, or a part of it, from one label to the next.
        var room = chart.Points.Select(point => point.Label.Length).DefaultIfEmpty().Max() * 6.4 * grow;
        var every = ((int[])[1, 2, 3, 6, 12, 24]).FirstOrDefault(each => each * step >= room, 48);
        var below = turned ? (20 * grow) + (digits * 0.6 * size) : 28 * grow;
        sheet.Text("n", left - 8, bottom + (13 * grow), 11.5f * grow, Ink.Quiet, Alignment.MiddleRight);
        foreach (var point in chart.Points)
        {
            if (turned)
                sheet.RisingText(Digits(point.N), x(point.X), bottom + (11 * grow), size, Ink.Black);
            else
                sheet.Text(Digits(point.N), x(point.X), bottom + (13 * grow), size, Ink.Black, Alignment.MiddleCenter);
        }

        // The last point always has its month.
        for (var i = (chart.Points.Length - 1) % every; i < chart.Points.Length; i += every)
            sheet.Text(chart.Points[i].Label, x(chart.Points[i].X), bottom + below, 11 * grow, Ink.Quiet, Alignment.MiddleCenter);
    }

    private static string Digits(long number) => number.ToString(System.Globalization.CultureInfo.InvariantCulture);

    private static void Median(
        Sheet sheet, RunChartDrawing chart, DrawnPhase phase, Func<double, double> x, Func<double, double> y, Layout at)
    {
        var (_, right, top, _, _, grow, _) = at;
        if (phase.Median is not { } median)
            return;
        var (start, end) = (x(phase.From), x(phase.To));
        var (from, to) = (x(phase.Baseline.From), Math.Min(x(phase.Baseline.From + phase.Baseline.Months), end));
        if (from > start)
            sheet.Line(start, y(median), from, y(median), Ink.Black, 1.2f * grow, LinePattern.Dashed);
        sheet.Line(from, y(median), to, y(median), Ink.Black, 1.6f * grow);
        if (to < end)
            sheet.Line(to, y(median), end, y(median), Ink.Black, 1.2f * grow, LinePattern.Dashed);
        Bar(sheet, from, to, top - (10 * grow), Ink.Quiet, 1);
        // An earlier phase has no room at the right for its median: it stands by its baseline.
        var last = phase.To == chart.Months;
        sheet.Text(last ? "baseline" : $"baseline: median {Wording.Short(median, chart.Per)}", from + 5, top - (20 * grow), 11 * grow,
            last ? Ink.Quiet : Ink.Black);
        if (!last)
            return;
        sheet.Text("baseline median", right + 6, y(median) - (8 * grow), 11.5f * grow, Ink.Black);
        sheet.Text(Wording.Short(median, chart.Per), right + 6, y(median) + (8 * grow), 13 * grow, Ink.Black, bold: true);
    }

    // What was declared: a line at its date with a letter, and the words under the drawing.
    private static void Changes(Sheet sheet, RunChartDrawing chart, Func<double, double> x, Layout at)
    {
        var (_, _, top, bottom, foot, grow, slide) = at;
        for (var i = 0; i < chart.Changes.Length; i++)
        {
            var change = chart.Changes[i];
            sheet.Line(x(change.X), top - 4, x(change.X), bottom, Ink.Black, grow, LinePattern.Dotted);
            sheet.Text(change.Mark, x(change.X) + 4, bottom - (8 * grow), 12 * grow, Ink.Black, bold: true);
            sheet.Text(Cut($"{change.Mark}  {change.Words}", slide ? 96 : 120), 0, foot + (i * (slide ? SlidesLine : Line)) + (2 * grow),
                11.5f * grow, Ink.Black);
        }
    }

    private static void Signal(Sheet sheet, RunChartDrawing chart, Func<double, double> x, Layout layout)
    {
        var (left, edge, top, _, _, grow, _) = layout;
        if (chart.Signal is not { } marked)
            return;
        var (start, end, at, words) = marked;
        var (from, to) = (x(start), x(end));
        Bar(sheet, from, to, top - (28 * grow), marked.IsVerdict ? Ink.Black : Ink.Quiet, (marked.IsVerdict ? 2.4f : 1.2f) * grow);
        if (at is { } month)
            sheet.Diamond(x(month), top - (28 * grow), 6 * grow, Ink.Black);
        // A long text over a short run near an edge stays on the sheet.
        var right = Math.Max(to, at is { } found ? x(found) : to);
        var alignment = (from + right) / 2 > (left + edge) / 2 ? Alignment.MiddleRight : Alignment.MiddleLeft;
        sheet.Text(words, alignment == Alignment.MiddleRight ? right : from, top - (42 * grow), 12 * grow,
            marked.IsVerdict ? Ink.Black : Ink.Quiet, alignment, bold: marked.IsVerdict);
    }

    private static void Bar(Sheet sheet, double from, double to, double y, Color color, float width)
    {
        sheet.Line(from, y, to, y, color, width);
        sheet.Line(from, y - 1, from, y + 5, color, width);
        sheet.Line(to, y - 1, to, y + 5, color, width);
    }

    internal static string Cut(string text, int most) => text.Length <= most ? text : string.Concat(text.AsSpan(0, most - 1), "…");

    // What is drawn, and behind the last dot what it says.
    private static string[] Halves(string subtitle) =>
        subtitle.LastIndexOf(" · ", StringComparison.Ordinal) is var dot and > 0
            ? [Cut(subtitle[..dot], 92), Cut(subtitle[(dot + 3)..], 92)]
            : [Cut(subtitle, 92)];
}
