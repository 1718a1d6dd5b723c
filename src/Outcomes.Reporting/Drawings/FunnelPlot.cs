using Outcomes.Analysis;
using Outcomes.Statistics;
using ScottPlot;

namespace Outcomes.Reporting.Drawings;

/// <summary>
/// Draws a funnel: a dot a site at its number of records, with its code; the target, and the exact limits as steps: 95 % thin, 99.8 %
/// thick. A site outside has a black diamond over its dot.
/// </summary>
internal static class FunnelPlot
{
    public const int Width = 840, Height = 400;
    private const double Left = 58, Right = Width - 140, Top = 66, Bottom = 320;

    /// <summary>More codes than this would cover the dots; the table has them.</summary>
    private const int Many = 30;

    public static string Id(SiteComparison sites) => "funnel_" + sites.Measure.Id;

    public static string Title(SiteComparison sites) => $"{sites.Measure.Title}, between sites";

    public static void Draw(Sheet sheet, SiteComparison sites)
    {
        var (funnel, per) = (sites.Funnel, sites.Measure.Per);
        var most = Math.Max(4, funnel.Points.Max(point => point.Count.Eligible) * 1.1);
        var top = RunChartDrawing.AxisTop(funnel.Points.Where(point => point.Value is not null)
            .Select(point => new DrawnPoint(0, "", DrawnPoint.Few, point.Value, point.Limits?.Within998)));
        double X(double n) => Left + ((Right - Left) * n / most);
        double Y(double value) => Bottom - ((Bottom - Top) * Math.Min(value, top) / top);

        sheet.Text(RunChartPlot.Cut(Title(sites), 74), 0, 15, 18, Ink.Black, bold: true);
        sheet.Text($"{(per == 100 ? "Percentage of" : Wording.Unit(per) + ",")} eligible records, {Wording.Span(sites.From, sites.To)} · "
            + $"across: number of records · sites are not ranked", 0, 39, 13, Ink.Quiet);
        for (var i = 0; i <= 4; i++)
        {
            sheet.Line(Left, Y(top * i / 4), Right, Y(top * i / 4), i == 0 ? Ink.Quiet : Ink.Grid);
            sheet.Text(Wording.Short(top * i / 4, per == 100 ? 100 : per), Left - 8, Y(top * i / 4), 12, Ink.Quiet, Alignment.MiddleRight);
            sheet.Text(Wording.Number((long)(most * i / 4)), X((long)(most * i / 4)), Bottom + 14, 12, Ink.Quiet, Alignment.MiddleCenter);
        }

        Limits(sheet, funnel, X, Y);
        Sites(sheet, funnel, X, Y);
        sheet.Text("Thin lines: 95 % limits. Thick lines: 99.8 % limits. Both exact, for one look. Diamond: outside the limits, ask why, "
            + "recording first.", 0, Height - 34, 11.5f, Ink.Quiet);
        sheet.Text(ChartCautions.Funnel, 0, Height - 14, 11.5f, Ink.Quiet);
    }

    private static void Limits(Sheet sheet, Funnel funnel, Func<double, double> x, Func<double, double> y)
    {
        if (funnel.Target is not { } target)
            return;
        sheet.Line(Left, y(target), Right, y(target), Ink.Accent, 1.4f);
        sheet.Text("all sites together", Right + 6, y(target), 12, Ink.Accent);
        Limit(limit => limit.Within95.Lower, 0.8f);
        Limit(limit => limit.Within95.Upper, 0.8f);
        Limit(limit => limit.Within998.Lower, 1.8f);
        Limit(limit => limit.Within998.Upper, 1.8f);

        // One path each: dashes would begin anew at every step, and so look solid.
        void Limit(Func<FunnelLimit, double> end, float width) =>
            sheet.Path([.. funnel.Curve.Select(limit => (x(limit.Eligible), y(end(limit))))], Ink.Black, width);
    }

    private static void Sites(Sheet sheet, Funnel funnel, Func<double, double> x, Func<double, double> y)
    {
        var labels = new List<(double X, double Y)>();
        foreach (var point in funnel.Points.Where(point => point.Value is not null).OrderBy(point => point.Count.Eligible)
            .ThenBy(point => point.Group, StringComparer.Ordinal))
        {
            var (left, middle) = (x(point.Count.Eligible), y(point.Value!.Value));
            sheet.Dot(left, middle, 8, Ink.Accent, hollow: false);
            if (point.Place != FunnelPlace.Inside)
                sheet.Diamond(left, middle - 12, 5, Ink.Black);
            if (funnel.Points.Length > Many)
                continue;
            var beside = middle;
            while (labels.Any(label => Math.Abs(label.X - left) < 60 && Math.Abs(label.Y - beside) < 13))
                beside += 13;
            labels.Add((left, beside));
            sheet.Text(point.Group, left + 8, beside, 12, Ink.Black);
        }
    }

    public static string Describe(SiteComparison sites) =>
        $"Funnel plot of {Title(sites)}. " + string.Join(" ", sites.Funnel.Points.Select(point =>
            $"Site {point.Group}: {Wording.Fraction(point.Count)}, {SiteWording.Place(point)}.")) + $" {SiteWording.Pooled(sites)}";
}
