namespace Outcomes.Reporting.Drawings;

/// <summary>
/// A run chart the height of a table row: points and line, the median, a dotted line for a declared change and a black diamond for a
/// signal. The scale's ends are written; everything else stands on the chart itself, further down the page.
/// </summary>
internal static class SmallRunChart
{
    public const int Width = 236, Height = 62;

    private const double Left = 34, Right = Width - 8, Top = 12, Bottom = Height - 8;

    public static void Draw(Sheet sheet, RunChartDrawing chart)
    {
        double X(double months) => Left + ((Right - Left) * months / Math.Max(chart.Months, 1));
        double Y(double value) => Bottom - ((Bottom - Top) * Math.Min(value, chart.Top) / chart.Top);

        sheet.Line(Left, Y(0), Right, Y(0), Ink.Quiet);
        sheet.Line(Left, Y(chart.Top), Right, Y(chart.Top), Ink.Grid);
        sheet.Text(End(chart), Left - 4, Y(chart.Top), 10, Ink.Quiet, ScottPlot.Alignment.MiddleRight);
        sheet.Text("0", Left - 4, Y(0), 10, Ink.Quiet, ScottPlot.Alignment.MiddleRight);
        foreach (var phase in chart.Phases)
        {
            if (phase.Median is { } median)
                sheet.Line(X(phase.From), Y(median), X(phase.To), Y(median), Ink.Black, 1);
        }

        foreach (var change in chart.Changes)
            sheet.Line(X(change.X), Top, X(change.X), Bottom, Ink.Black, 1, ScottPlot.LinePattern.Dotted);
        foreach (var stretch in RunChartPlot.Stretches(chart))
            sheet.Path([.. stretch.Select(point => (X(point.X), Y(point.Value!.Value)))], Ink.Accent, 1.1f);
        var last = chart.Points.LastOrDefault(point => point.Value is not null);
        foreach (var point in chart.Points)
        {
            if (point.Value is { } value)
                sheet.Dot(X(point.X), Y(value), point == last ? 6 : 3.6f, Ink.Accent, point.Hollow);
        }

        if (chart.Signal is not { IsVerdict: true } marked)
            return;
        var (from, to, at, _) = marked;
        sheet.Line(X(from), 4, X(to), 4, Ink.Black, 2);
        if (at is { } month)
            sheet.Diamond(X(month), 4, 4, Ink.Black);
    }

    private static string End(RunChartDrawing chart) =>
        (chart.Top * chart.Per).ToString("0.##", System.Globalization.CultureInfo.InvariantCulture)
            + (chart.Per == 100 ? Wording.Space + "%" : "");
}
