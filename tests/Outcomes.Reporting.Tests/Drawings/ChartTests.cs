using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Xml.Linq;
using Outcomes.Analysis;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Page;
using Outcomes.Statistics;
using SkiaSharp;

namespace Outcomes.Tests.Reporting.Drawings;

public class ChartTests
{
    private static readonly XNamespace Ns = "http://www.w3.org/2000/svg";
    private static readonly Figures Model = Samples.Model();
    private static readonly ImmutableArray<Chart> Drawn = Charts.Draw(Model);
    private static readonly ImmutableArray<Chart> OnSlides = [.. Drawn.Where(chart => chart.Slide.Length > 0)];

    [Fact]
    public void Each_measure_with_a_run_chart_is_drawn_then_headline_measures_by_stratum_then_the_ladder() => Assert.Equal(
        ["first_pass", "spo2_below_90", "hypotension", "waveform_co2", "first_pass by stratum",
            "first_pass by stratum location_type", "plan_ladder"], Drawn.Select(chart => chart.Id));

    [Fact]
    public void Two_drawings_in_one_process_are_the_same_bytes()
    {
        Charts.Prepare();
        var again = Charts.Draw(Samples.Model());
        Assert.All(Drawn.Zip(again), pair =>
        {
            Assert.Equal(pair.First.Svg, pair.Second.Svg);
            Assert.Equal(SHA256.HashData(pair.First.Png.AsSpan()), SHA256.HashData(pair.Second.Png.AsSpan()));
        });
    }

    [Fact]
    public void Drawing_side_by_side_or_alone_makes_no_difference()
    {
        foreach (var measure in Model.Measures.Where(measure => measure is { RunChart: not null, IsTooRareToChart: false }))
        {
            var alone = Charts.Draw(Model with { Measures = [measure], Ladder = null });
            Assert.Equal(measure.Strata.IsEmpty ? 1 : 3, alone.Length);
            Assert.All(alone, chart => Assert.Equal(Drawn.Single(other => other.Id == chart.Id).Svg, chart.Svg));
        }
    }

    [Fact]
    public void An_svg_scales_speaks_and_keeps_its_ids_to_itself()
    {
        var ids = new HashSet<string>();
        foreach (var chart in Drawn)
        {
            var svg = FlatSvg.Parse(chart.Svg);
            Assert.Matches("^0 0 840 [0-9]+$", svg.Attribute("viewBox")!.Value);
            Assert.Equal("img", svg.Attribute("role")!.Value);
            Assert.Equal(chart.Title, svg.Element(Ns + "title")!.Value);
            Assert.NotEmpty(svg.Element(Ns + "desc")!.Value);
            foreach (var id in svg.DescendantsAndSelf().Attributes("id"))
            {
                Assert.StartsWith("chart-" + chart.Name, id.Value, StringComparison.Ordinal);
                Assert.True(ids.Add(id.Value));
            }

            // Numbered by a counter of the whole process, a clip path would differ from drawing to drawing.
            Assert.Empty(svg.Descendants(Ns + "clipPath"));
        }
    }

    [Fact]
    public void A_month_without_cases_has_no_point_and_the_line_stops_on_either_side()
    {
        var svg = FlatSvg.Parse(Drawn.Single(chart => chart.Id == "first_pass").Svg);
        var points = svg.Descendants(Ns + "circle").Select(
            dot => Math.Round(double.Parse(dot.Attribute("cx")!.Value, CultureInfo.InvariantCulture), 1)).Distinct().Order().ToList();
        Assert.Equal(35, points.Count);
        var steps = points.Zip(points.Skip(1), (a, b) => b - a).ToList();
        Assert.Single(steps, step => step > 1.5 * steps[0]);
        // The line is two strokes: months 1 to 9 and 11 to 36, none of which crosses the gap in month 10.
        var gap = points[8] + steps[0];
        var lines = svg.Descendants(Ns + "path")
            .Where(path => path.Attribute("stroke")?.Value == "#0072B2" && path.Attribute("fill")?.Value == "none"
                && path.Attribute("stroke-width")?.Value != "3.6")
            .SelectMany(path => path.Attribute("d")!.Value.Split('M')).Where(d => d.Count(c => c == 'L') > 3).ToList();
        Assert.Equal(2, lines.Count);
        Assert.All(lines, line =>
        {
            var xs = line.Split('M', 'L').Where(part => part.Length > 0)
                .Select(part => double.Parse(part.Split(' ')[0], CultureInfo.InvariantCulture)).ToList();
            Assert.True(xs.Max() < gap || xs.Min() > gap);
        });
    }

    [Fact]
    public void Few_cases_make_a_hollow_point()
    {
        var white = FlatSvg.Parse(Drawn.Single(chart => chart.Id == "first_pass").Svg).Descendants(Ns + "circle")
            .Where(dot => dot.Attribute("fill")?.Value == "white");
        Assert.Single(white);
    }

    [Fact]
    public void A_run_that_met_the_rule_is_drawn_heavier_and_a_chart_without_one_has_no_heavy_line()
    {
        bool IsHeavy(string id) => FlatSvg.Parse(Drawn.Single(chart => chart.Id == id).Svg).Descendants(Ns + "path")
            .Any(path => path.Attribute("stroke-width")?.Value == "3.6");
        Assert.True(IsHeavy("first_pass"));
        Assert.False(IsHeavy("hypotension"));
    }

    [Fact]
    public void Ten_years_of_months_have_an_n_each()
    {
        var drawing = RunChartDrawing.Of(Model.Measures[0], Model.First)!;
        var many = drawing with
        {
            Months = 120,
            Points = [.. Enumerable.Range(0, 120).Select(i => new DrawnPoint(i + 0.5, $"{i}", 1000 + i, 0.5, null))],
        };
        var chart = DrawChart.Draw(new("x", "x", "x", "x"), (RunChartPlot.Width, RunChartPlot.Height(many)), null,
            sheet => RunChartPlot.Draw(sheet, many));
        var printed = FlatSvg.Parse(chart.Svg).Descendants(Ns + "text").Select(text => text.Value).ToHashSet();
        Assert.All(Enumerable.Range(1000, 120), n => Assert.Contains(n.ToString(CultureInfo.InvariantCulture), printed));
    }

    [Fact]
    public void Every_n_is_printed_under_its_point()
    {
        var chart = FlatSvg.Parse(Drawn.Single(chart => chart.Id == "spo2_below_90").Svg);
        var printed = chart.Descendants(Ns + "text").Select(text => text.Value).ToList();
        var counts = Model.Measures[1].RunChart!.Points.Select(point => point.Count.Eligible.ToString(CultureInfo.InvariantCulture));
        Assert.All(counts.GroupBy(n => n), group => Assert.True(printed.Count(text => text == group.Key) >= group.Count()));
    }

    [Fact]
    public void A_change_is_a_word_and_a_black_shape_and_a_run_is_named_as_no_verdict()
    {
        const string run = "run of 15 above the median: no verdict";
        var quiet = Drawn.Single(chart => chart.Id == "first_pass");
        Assert.Contains(run, quiet.Svg, StringComparison.Ordinal);
        Assert.DoesNotContain(run, Drawn.Single(chart => chart.Id == "hypotension").Svg, StringComparison.Ordinal);
        var verdict = new Verdict
        {
            Measure = Model.Measures[0].Measure,
            Label = VerdictLabel.Worse,
            Reason = VerdictReason.MonthlyTest,
            Change = new(true, new(2024, 12), new(2024, 11), new(2025, 1), new(2025, 3), 0.9),
        };
        var changed =
            Charts.Draw(Model with { Measures = [Model.Measures[0] with { Verdict = verdict }, .. Model.Measures[1..]] }, Slides.None)
                .Single(chart => chart.Id == "first_pass");
        Assert.Contains("Worse; the bar: when it may have started", changed.Svg, StringComparison.Ordinal);
        Assert.DoesNotContain(run, changed.Svg, StringComparison.Ordinal);
        string[] inks = ["#111", "#0072B2", "#5596C0", "#5C5C5C", "#DDD", "#EAF3F9", "#8A8A8A", "#FFF", "white", "none", "black"];
        var used = Drawn.Append(changed).SelectMany(chart => FlatSvg.Parse(chart.Svg).Descendants())
            .SelectMany(element => element.Attributes())
            .Where(attribute => attribute.Name.LocalName is "fill" or "stroke").Select(attribute => attribute.Value).Distinct();
        Assert.Empty(used.Except(inks));
    }

    [Fact]
    public void Every_character_that_is_drawn_or_printed_has_a_glyph_in_the_shipped_font()
    {
        var page = Report.Html(Model, Drawn);
        var text = new AngleSharp.Html.Parser.HtmlParser().ParseDocument(page).Body!.TextContent;
        var symbols = "≥ ≤ ≈ ≠ − ± × → ← ↑ ↓ ● ○ ■ □ ◆ ✓ … – — “ ” ‘ ’ · • ° ½ ₂ ⁻ é ö ü ß ø å č ł ş";
        foreach (var face in new[] { "fonts/Inter-Regular.ttf", "fonts/Inter-SemiBold.ttf" })
        {
            using var stream = typeof(Charts).Assembly.GetManifestResourceStream(face)!;
            using var typeface = SKTypeface.FromStream(stream);
            var absent = (text + symbols).Distinct().Where(c => c >= ' ' && c != '⁻' && !typeface.ContainsGlyphs(c.ToString())).ToArray();
            Assert.Empty(absent);
        }
    }

    [Fact]
    public void A_hostile_title_is_text_in_the_drawing_and_a_safe_file_name()
    {
        var measure = Model.Measures[0] with { Measure = Samples.Definition("../<x>", "</text><script>&\"\u202e", 0) };
        var charts = Charts.Draw(Model with { Measures = [measure, measure], Ladder = null });
        Assert.Equal(["x", "x-2", "x--by-location_type-hour_band", "x--by-location_type-hour_band-2"],
            charts.Where(chart => chart.Slide.Length > 0).Select(chart => chart.Name));
        Assert.Equal(charts.Length, charts.Select(chart => chart.Name).Distinct().Count());
        var svg = FlatSvg.Parse(charts[0].Slide);
        Assert.Empty(svg.Descendants(Ns + "script"));
        Assert.Contains(svg.Descendants(Ns + "text"), text => text.Value == "</text><script>&\"□");
    }

    [Fact]
    public void A_drawing_by_stratum_keeps_the_declared_order_gives_small_levels_no_interval_and_every_level_its_count()
    {
        var svg = FlatSvg.Parse(Drawn.Single(chart => chart.Id == Charts.StrataId("first_pass")).Svg);
        string[] texts = [.. svg.Descendants(Ns + "text").Select(text => text.Value)];
        // By the model: the level with the highest proportion stands second, and the ward's three records are merged.
        string[] labels =
        [
            "Intensive care", "Emergency department", "Not recorded", "One other level, with few records", "Day", "Night",
        ];
        Assert.Equal(labels, texts.Where(text => labels.Contains(text) || text is "Ward" or "icu" or "ed" or "day" or "night"));
        Assert.Equal(["61/70", "90/103", "9/11", "2/3", "100/110", "60/74"],
            texts.Where(text => text.Contains('/', StringComparison.Ordinal)));
        Assert.Single(texts, text => text == "too few for an interval");
    }

    [Fact]
    public void Who_held_the_laryngoscope_is_never_drawn_beside_front_of_neck_access()
    {
        var grades = StratumFigures.Of("operator_grade", [("senior", new Count(6, 70, 2))], Samples.Estimate);
        var fona = Model.Measures.Single(measure => measure.Measure.Id == "fona") with { Headline = true, Strata = [grades] };
        Assert.DoesNotContain(Charts.Draw(Model with { Measures = [fona], Ladder = null }), chart => chart.Id == Charts.StrataId("fona"));
        var checklist = fona with { Measure = Samples.Definition("checklist", "Checklist", 0) };
        Assert.Contains(Charts.Draw(Model with { Measures = [checklist], Ladder = null }),
            chart => chart.Id == Charts.StrataId("checklist"));
    }

    [Fact]
    public void Saved_files_are_whole_and_the_svg_brings_its_font()
    {
        var folder = Directory.CreateTempSubdirectory();
        try
        {
            foreach (var chart in OnSlides)
                Charts.Save(chart, Path.Combine(folder.FullName, chart.Name + ".svg"), Path.Combine(folder.FullName, chart.Name + ".png"));
            Assert.Equal(OnSlides.SelectMany(chart => new[] { chart.Name + ".png", chart.Name + ".svg" }).Order(StringComparer.Ordinal),
                folder.GetFiles().Select(file => file.Name).Order(StringComparer.Ordinal));
            var svg = XElement.Load(Path.Combine(folder.FullName, "first_pass.svg"));
            Assert.Contains("font/woff2", svg.Element(Ns + "style")!.Value, StringComparison.Ordinal);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
