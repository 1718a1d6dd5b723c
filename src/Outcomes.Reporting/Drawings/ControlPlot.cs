using Outcomes.Analysis;
using Outcomes.Statistics;
using ScottPlot;

namespace Outcomes.Reporting.Drawings;

/// <summary>
/// Draws a control chart: months as dots, hollow where they are few; the centre, solid over its baseline and dashed after it; the limits as
/// steps, one a month; wider limits dashed; a black diamond over a month outside them after the baseline.
/// </summary>
internal static class ControlPlot
{
    public const int Width = 840, Height = 330;

    /// <summary>More months than this are drawn smaller.</summary>
    private const int Many = 60;

    private const double Left = 58, Right = Width - 128, Top = 82, Bottom = 230;

    public static string Id(ControlChartFigures report) => "control " + report.Id;

    public static string Title(ControlChartFigures report) => $"{report.Title}: months and limits";

    public static void Draw(Sheet sheet, ControlChartFigures report)
    {
        var (low, high) = Ends(report);
        var months = report.Months.Length;
        double X(double month) => Left + ((Right - Left) * month / Math.Max(months, 1));
        double Y(double value) => Bottom - ((Bottom - Top) * (Math.Clamp(value, low, high) - low) / (high - low));

        sheet.Text(RunChartPlot.Cut(Title(report), 74), 0, 15, 18, Ink.Black, bold: true);
        sheet.Text(RunChartPlot.Cut($"{ControlWording.Unit(report)}", 118), 0, 39, 13, Ink.Quiet);
        for (var i = 0; i <= 4; i++)
        {
            var value = low + ((high - low) * i / 4);
            sheet.Line(Left, Y(value), Right, Y(value), i == 0 ? Ink.Quiet : Ink.Grid);
            sheet.Text(ControlWording.Value(report, value), Left - 8, Y(value), 12, Ink.Quiet, Alignment.MiddleRight);
        }

        foreach (var phase in report.Wider)
            Dashed(sheet, phase.Chart, X, Y);
        foreach (var phase in report.Phases)
        {
            Solid(sheet, phase.Chart, point => point.Lower, X, Y);
            Solid(sheet, phase.Chart, point => point.Upper, X, Y);
            Centre(sheet, phase, X, Y);
        }

        foreach (var phase in report.Phases)
            Points(sheet, report, phase.Chart, X, Y);
        Words(sheet, report, Y);
        Months(sheet, report, X);
        sheet.Text("Hollow: fewer than 5 cases. No dot: no value, never zero. Diamond: outside the limits after the baseline, "
            + "a question about that month.", 0, Height - 12, 11.5f, Ink.Quiet);
    }

    /// <summary>What a listener hears in place of the picture.</summary>
    public static string Describe(ControlChartFigures report)
    {
        var (from, to) = report.Baseline;
        var known = report.Phases.SelectMany(phase => phase.Chart.Points).Where(point => point.Value is not null).ToArray();
        return $"Control chart of {report.Title}, {Wording.Some(known.Length, "month")} with a value " +
            $"from {Wording.Span(report.Months[0].Month, report.Months[^1].Month)}. " +
            $"Centre {ControlWording.Value(report, report.Last.Centre)} from the baseline, {Wording.Span(from, to)}. " +
            (known.Length == 0 ? "" : $"Last {ControlWording.Value(report, known[^1].Value)}"
                + (ControlWording.Limits(report, known[^1]) is { Length: > 0 } limits ? $", limits {limits}. " : ". ")) +
            ControlWording.Doubts(report);
    }

    private static void Points(Sheet sheet, ControlChartFigures report, ControlChart chart, Func<double, double> x, Func<double, double> y)
    {
        foreach (var (first, second) in chart.Points.Zip(chart.Points.Skip(1)))
            if (first.Value is { } before && second.Value is { } after)
                sheet.Line(x(first.Position + 0.5), y(before), x(second.Position + 0.5), y(after), Ink.Accent, 1.2f);
        foreach (var point in chart.Points)
        {
            if (point.Value is not { } value)
                continue;
            sheet.Dot(x(point.Position + 0.5), y(value), chart.Points[^1].Position > Many ? 4 : 6.5f, Ink.Accent,
                hollow: report.Charted != Charted.Volume && report.Months[point.Position].Denominator < DrawnPoint.Few);
            if (point.Beyond && !point.InBaseline)
                sheet.Diamond(x(point.Position + 0.5), y(value) + (value > chart.Centre ? -12 : 12), 5, Ink.Black);
        }
    }

    // One path a stretch of months that have the limit: steps, broken where there is none.
    private static void Solid(
        Sheet sheet, ControlChart chart, Func<ControlPoint, double?> limit, Func<double, double> x, Func<double, double> y)
    {
        var path = new List<(double X, double Y)>();
        foreach (var point in chart.Points)
        {
            if (limit(point) is { } value)
            {
                path.AddRange([(x(point.Position), y(value)), (x(point.Position + 1), y(value))]);
                continue;
            }

            sheet.Path(path, Ink.Black, 1.2f);
            path = [];
        }

        sheet.Path(path, Ink.Black, 1.2f);
    }

    // Two strokes a month: dashes of a pattern would begin anew at every step, and look solid.
    private static void Dashed(Sheet sheet, ControlChart chart, Func<double, double> x, Func<double, double> y)
    {
        foreach (var point in chart.Points)
            foreach (var limit in new[] { point.Lower, point.Upper }.OfType<double>())
                foreach (var part in new[] { 0.1, 0.6 })
                    sheet.Line(x(point.Position + part), y(limit), x(point.Position + part + 0.3), y(limit), Ink.Quiet, 1.3f);
    }

    private static void Centre(Sheet sheet, PhaseChart phase, Func<double, double> x, Func<double, double> y)
    {
        var points = phase.Chart.Points;
        if (phase.Chart.Centre is not { } centre)
            return;
        var (start, end) = (x(points[0].Position), x(points[^1].Position + 1));
        var inside = points.Where(point => point.InBaseline).ToArray();
        var (from, to) = inside is [var first, ..] ? (x(first.Position), x(inside[^1].Position + 1)) : (start, start);
        sheet.Line(start, y(centre), from, y(centre), Ink.Black, 1, LinePattern.Dashed);
        sheet.Line(from, y(centre), to, y(centre), Ink.Black, 1.4f);
        sheet.Line(to, y(centre), end, y(centre), Ink.Black, 1, LinePattern.Dashed);
        sheet.Line(from, Top - 10, to, Top - 10, Ink.Quiet);
        sheet.Line(from, Top - 11, from, Top - 5, Ink.Quiet);
        sheet.Line(to, Top - 11, to, Top - 5, Ink.Quiet);
        sheet.Text("baseline", from + 5, Top - 20, 11, Ink.Quiet);
    }

    // Words stand at the right, by their lines; those too near to another move down.
    private static void Words(Sheet sheet, ControlChartFigures report, Func<double, double> y)
    {
        var last = report.Last.Points[^1];
        (double Y, string Text)[] words =
        [
            .. Word(last.Upper, "upper limit"), .. Word(report.Last.Centre, $"centre {ControlWording.Value(report, report.Last.Centre)}"),
            .. Word(last.Lower, "lower limit"),
        ];
        var at = double.NegativeInfinity;
        foreach (var (place, text) in words.OrderBy(word => word.Y))
        {
            at = Math.Max(place, at + 14);
            sheet.Text(text, Right + 6, at, 11.5f, Ink.Black);
        }

        if (!report.Wider.IsEmpty)
            sheet.Text("dashed: wider limits", Right + 6, Top - 20, 11.5f, Ink.Quiet);

        IEnumerable<(double, string)> Word(double? value, string text) => value is { } found ? [(y(found), text)] : [];
    }

    private static void Months(Sheet sheet, ControlChartFigures report, Func<double, double> x)
    {
        var every = Math.Max(1, (int)Math.Ceiling(report.Months.Length / 36.0));
        sheet.Text(report.Charted == Charted.Volume ? "records" : "n", Left - 8, Bottom + 13, 11.5f, Ink.Quiet, Alignment.MiddleRight);
        for (var i = report.Months.Length - 1; i >= 0; i -= every)
        {
            var month = report.Months[i];
            sheet.Text((report.Charted == Charted.Volume ? month.Numerator : month.Denominator).ToString(
                System.Globalization.CultureInfo.InvariantCulture), x(i + 0.5), Bottom + 13, 10.5f, Ink.Black, Alignment.MiddleCenter);
            sheet.RisingText(Wording.Abbreviated(month.Month), x(i + 0.5), Bottom + 27, 11, Ink.Quiet);
        }
    }

    // Proportions as on run charts; a volume from 0.
    private static (double Low, double High) Ends(ControlChartFigures report)
    {
        var points = report.Phases.Concat(report.Wider).SelectMany(phase => phase.Chart.Points).ToArray();
        double[] drawn = [.. points.SelectMany(point => new[] { point.Value, point.Lower, point.Upper }).OfType<double>()];
        if (report.Charted == Charted.Proportion)
            return (0, RunChartDrawing.AxisTop(drawn.Select(value => new DrawnPoint(0, "", DrawnPoint.Few, value, null))));
        var scale = report.Charted == Charted.Volume ? ControlWording.Days : 1.0;
        var (least, most) = (report.Charted == Charted.Volume ? 0 : drawn.Min(), drawn.Max());
        var step = Step4((most - least) * scale) / scale;
        var low = Math.Floor(least / step) * step;
        return (low, low + (Math.Ceiling(Math.Max(most - low, step) / (4 * step)) * 4 * step));
    }

    /// <summary>The least of 1, 2 or 5 tens of which four hold the range.</summary>
    private static double Step4(double range)
    {
        var ten = Math.Pow(10, Math.Floor(Math.Log10(Math.Max(range, 1e-9) / 4)));
        return new[] { 1, 2, 2.5, 5, 10 }.First(digit => digit * ten * 4 >= range || digit == 10) * ten;
    }
}
