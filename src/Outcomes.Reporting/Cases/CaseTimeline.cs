using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Cases;

/// <summary>
/// Minutes from induction, those round it drawn wide: the monitor's trace where there is one and the moments with a recorded time. Where
/// the record has neither, it says so and draws nothing: a scale that nobody recorded would be invented. Plain SVG, not the chart library:
/// a pack may hold dozens of these, none has a file of its own, and labels pass the page's encoder.
/// </summary>
internal static class CaseTimeline
{
    private const double Left = 56, Right = 760, PanelHeight = 110, Gap = 34, Top = 18;

    public static void Write(Html html, CaseView each)
    {
        html.Add($"<h3>Timeline</h3>");
        var signals = each.Signals.Where(signal => signal.Points.Any(point => !double.IsNaN(point.Value))).ToArray();
        if (signals.Length == 0 && each.Moments.IsEmpty)
        {
            html.Add($"<p>There is no trace of the monitor, and the record states no times: nothing is drawn, "
                + $"for the scale would be invented. Values without a time stand above.</p>");
            return;
        }

        var scale = TimeScale.Of(
            [.. signals.SelectMany(signal => signal.Points.Select(point => point.Seconds)),
                .. each.Moments.Select(moment => moment.Seconds), 0],
            each.Moments.Select(moment => moment.Seconds));
        html.Add($"<p>{Basis(signals, each.Moments)}{Narrow(scale)}</p>");
        Draw(html, each, signals, scale);
        if (each.Moments.IsEmpty)
            return;
        html.Add($"<p class=\"moments\" id=\"t-moments-{each.Id}\">Recorded times, minutes from induction: ");
        foreach (var (i, moment) in each.Moments.Index())
            html.Add($"<span>{(i + 1).ToString(CultureInfo.InvariantCulture)}. {moment.What} {Minutes(moment.Seconds)}"
                + $"{(i + 1 < each.Moments.Length ? ";" : "")}</span> ");
        html.Add($"</p>\n");
    }

    private static string Basis(NamedSignal[] signals, ImmutableArray<CaseMoment> moments)
    {
        var thinned = signals.Select(signal => signal.Thinned).DefaultIfEmpty().Max();
        var drawn = signals.Length == 0 ? "Drawn from recorded times alone; there is no trace of the monitor."
            : "Drawn from the monitor’s trace; gaps are samples that are missing or do not count."
              + (thinned > 0 ? $" Each point is the lowest of {thinned.ToString(CultureInfo.InvariantCulture)} seconds." : "");
        return moments.IsEmpty ? drawn + " The record states no times of what was done." : drawn;
    }

    private static string Narrow(TimeScale scale) => (scale.HasEarlyEnd, scale.HasLateEnd) switch
    {
        (true, true) => $" Dashed: minutes before {N(scale.WideFrom)} and after {N(scale.WideTo)}, drawn narrow.",
        (true, false) => $" Dashed: minutes before {N(scale.WideFrom)}, drawn narrow.",
        (false, true) => $" Dashed: minutes after {N(scale.WideTo)}, drawn narrow.",
        _ => "",
    };

    private static void Draw(Html html, CaseView each, NamedSignal[] signals, TimeScale scale)
    {
        var panels = Math.Max(1, signals.Length);
        var height = Top + (panels * (PanelHeight + Gap)) + 10;
        double X(double seconds) => Left + (scale.Place(seconds / 60) * (Right - Left));
        var spoken = signals.Select(signal => signal.Title)
            .Concat(each.Moments.Select(moment => $"{moment.What} at {Minutes(moment.Seconds)}"));
        html.Add(
            $"""<div class="timeline" role="group" tabindex="0" aria-label="Timeline of case {each.Id}">"""
                + $"""<svg viewBox="0 0 800 {N(height)}" role="img" aria-labelledby="tl-{each.Id}" font-size="12">"""
                + $"""<title id="tl-{each.Id}">Case {each.Id}, minutes from induction: {string.Join(", ", spoken)}</title>""");
        for (var i = 0; i < panels; i++)
            Panel(html, i < signals.Length ? signals[i] : null, Top + (i * (PanelHeight + Gap)), scale, X);
        // Moments of one time share a line and their numbers.
        foreach (var moment in each.Moments.Index().GroupBy(moment => N(X(moment.Item.Seconds))))
        {
            var (at, number) = (moment.Key,
                string.Join(", ", moment.Select(one => (one.Index + 1).ToString(CultureInfo.InvariantCulture))));
            html.Add(
                $"""<line x1="{at}" x2="{at}" y1="{N(Top)}" y2="{N(height - Gap - 10)}" stroke="#555" stroke-dasharray="2 3"/>"""
                    + $"""<text x="{at}" y="{N(Top - 5)}" text-anchor="middle" fill="#111">{number}</text>""");
        }
        html.Add($"</svg></div>\n");
    }

    private static void Panel(Html html, NamedSignal? signal, double top, TimeScale scale, Func<double, double> x)
    {
        var bottom = top + PanelHeight;
        Axis(html, scale, bottom, x);
        foreach (var minute in scale.Marks())
        {
            var at = N(x(minute * 60));
            html.Add(
                $"""<line x1="{at}" x2="{at}" y1="{N(bottom)}" y2="{N(bottom + 4)}" stroke="#111"/>"""
                    + $"""<text x="{at}" y="{N(bottom + 16)}" text-anchor="middle" fill="#555">{N(minute)}</text>""");
        }

        if (scale.From <= 0 && scale.To >= 0)
            html.Add($"""<line x1="{N(x(0))}" x2="{N(x(0))}" y1="{N(top)}" y2="{N(bottom)}" stroke="#111" stroke-width="1.5"/>""");
        if (signal is null)
            return;
        var known = signal.Points.Where(point => !double.IsNaN(point.Value)).Select(point => point.Value).ToArray();
        var (low, high) =
            (Math.Floor(known.Min() / 10) * 10, Math.Max(Math.Ceiling(known.Max() / 10) * 10, (Math.Floor(known.Min() / 10) * 10) + 10));
        double Y(double value) => bottom - ((value - low) / (high - low) * PanelHeight);
        for (var value = low; value <= high; value += (high - low) > 60 ? 40 : (high - low) > 30 ? 20 : 10)
        {
            if (value > low)
                html.Add($"""<line x1="{N(Left)}" x2="{N(Right)}" y1="{N(Y(value))}" y2="{N(Y(value))}" stroke="#d5d5d5"/>""");
            html.Add(
                $"""<text x="{N(Left - 6)}" y="{N(Y(value) + 4)}" text-anchor="end" fill="#555">{N(value)}</text>""");
        }

        html.Add($"""<text x="{N(Right)}" y="{N(top - 5)}" text-anchor="end" fill="#111" font-weight="600">{signal.Title}</text>""");
        foreach (var line in Lines(signal.Points))
        {
            var points = string.Join(' ', line.Select(point => $"{N(x(point.Seconds))},{N(Y(point.Value))}"));
            html.Add($"""<polyline fill="none" stroke="#0072b2" stroke-width="1.8" stroke-linecap="round" points="{points}"/>""");
        }
    }

    // The ends that are drawn narrow are dashed.
    private static void Axis(Html html, TimeScale scale, double y, Func<double, double> x)
    {
        Line(scale.WideFrom, scale.WideTo, "");
        if (scale.HasEarlyEnd)
            Line(scale.From, scale.WideFrom, " stroke-dasharray=\"5 4\"");
        if (scale.HasLateEnd)
            Line(scale.WideTo, scale.To, " stroke-dasharray=\"5 4\"");

        void Line(double from, double to, string dashes) => html.Add($"""<line x1="{N(x(from * 60))}" x2="{N(x(to * 60))}" """
            + $"""y1="{N(y)}" y2="{N(y)}" stroke="#111"{new Markup(dashes)}/>""");
    }

    private static IEnumerable<List<(double Seconds, double Value)>> Lines(ImmutableArray<(double Seconds, double Value)> points)
    {
        var line = new List<(double, double)>();
        foreach (var point in points)
        {
            if (!double.IsNaN(point.Value))
            {
                line.Add(point);
                continue;
            }

            if (line.Count > 0)
                yield return line;
            line = [];
        }

        if (line.Count > 0)
            yield return line;
    }

    private static string Minutes(double seconds) => (seconds / 60).ToString("0.0", CultureInfo.InvariantCulture);

    // Adding zero takes the sign off a negative one.
    private static string N(double value) => (Math.Round(value, 1) + 0.0).ToString("0.#", CultureInfo.InvariantCulture);
}
