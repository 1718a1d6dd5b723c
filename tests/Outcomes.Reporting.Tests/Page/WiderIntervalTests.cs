using System.Xml.Linq;
using AngleSharp.Html.Parser;
using Outcomes.Analysis;
using Outcomes.Reporting;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting.Page;

/// <summary>An interval that is wider since months vary has a star wherever it is printed, and the plain one beside it in tables.</summary>
public class WiderIntervalTests
{
    private static readonly Estimate Wider =
        new(0.3, 0.17, 0.47, 0.95, LevelProportion.Method, LevelProportion.Source, new(12, 40, 1));

    private static readonly StratumFigures Stratum = StratumFigures.Of("hour_band",
        [("night", new Count(12, 40, 1)), ("day", new Count(20, 60, 0))],
        (count, levels) => levels[0] == "night" ? Wider : Samples.Estimate(count));

    [Fact]
    public void An_estimate_in_words_has_the_star_of_either_method_and_a_plain_one_has_none()
    {
        Assert.Equal("30.0 % (17.0 to 47.0 %)*", Wording.Estimate(Wider, 100).Replace('\u00a0', ' '));
        Assert.EndsWith("*", Wording.Estimate(Wider with { Method = VaryingProportion.Method }, 100), StringComparison.Ordinal);
        Assert.DoesNotContain('*', Wording.Estimate(VaryingMonths.Plain(Wider), 100));
    }

    [Fact]
    public void A_table_of_levels_stars_the_one_and_says_what_the_star_means()
    {
        Assert.Equal(["30.0 % (17.0 to 47.0 %)*"],
            Table(Stratum).QuerySelectorAll("td").Select(cell => cell.TextContent.Replace('\u00a0', ' '))
                .Where(text => text.Contains('*', StringComparison.Ordinal)));
        Assert.Equal(Wording.StarExplained, Table(Stratum).QuerySelector("p")!.TextContent);
        var plain = StratumFigures.Of("hour_band", [("night", new Count(12, 40, 1))], Samples.Estimate);
        Assert.Null(Table(plain).QuerySelector("p"));
    }

    [Fact]
    public void A_drawing_of_levels_stars_the_one_and_says_what_the_star_means()
    {
        string[] texts = Drawn(Stratum);
        Assert.Single(texts, text => text.EndsWith("(17.0 to 47.0)*", StringComparison.Ordinal));
        Assert.Single(texts, text => text == Wording.StarExplained);
        Assert.DoesNotContain(Drawn(StratumFigures.Of("hour_band", [("night", new Count(12, 40, 1))], Samples.Estimate)),
            text => text.Contains('*', StringComparison.Ordinal));
    }

    // Wilson's interval of 12 of 40 by R: prop.test(12, 40, correct = FALSE).
    [Fact]
    public void The_table_of_sections_holds_the_printed_interval_and_the_plain_one()
    {
        var measure = Samples.Definition("m", "M", 0);
        SectionFigures section = new(new("hours", "Hours", "When?"), Samples.First, Samples.First.AddMonths(11))
        {
            Measures = [new(measure, new Count(32, 100, 1), null, [Stratum])],
        };
        var file = Path.GetTempFileName();
        try
        {
            StrataTable.Write(_ => file, [section]);
            var lines = File.ReadAllLines(file);
            Assert.EndsWith(",method,plain_lower,plain_upper", lines[0], StringComparison.Ordinal);
            var night = lines.Single(line => line.Contains(",night,", StringComparison.Ordinal)).Split(',');
            Assert.Equal(["0.3", "0.17", "0.47", "95", "wilson_months_of_all"], night[^7..^2]);
            Assert.Equal(["0.1807", "0.4543"],
                night[^2..].Select(cell => double.Parse(cell, System.Globalization.CultureInfo.InvariantCulture)
                    .ToString("0.0000", System.Globalization.CultureInfo.InvariantCulture)));
        }
        finally
        {
            File.Delete(file);
        }
    }

    private static AngleSharp.Dom.IElement Table(StratumFigures stratum)
    {
        var html = new Html();
        StratumTable.Write(html, "t", "By hours", Outcomes.Measures.Titles.Shipped, [(Samples.Definition("m", "M", 0), stratum)]);
        return new HtmlParser().ParseDocument(html.ToString()).Body!;
    }

    private static string[] Drawn(StratumFigures stratum)
    {
        var model = Samples.Model();
        var measure = model.Measures[0] with { Strata = [stratum] };
        var chart = Charts.Draw(model with { Measures = [measure], Ladder = null })
            .First(chart => chart.Id == Charts.StrataId(measure.Measure.Id));
        XNamespace svg = "http://www.w3.org/2000/svg";
        return [.. XElement.Parse(chart.Svg).Descendants(svg + "text").Select(text => text.Value)];
    }
}
