using System.Xml.Linq;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting;
using Outcomes.Reporting.Drawings;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting.Drawings;

public class SectionPlotTests
{
    private const string LongTitle = "A senior, a vasopressor and a front-of-neck set, all three of them";

    private static readonly XNamespace Ns = "http://www.w3.org/2000/svg";

    private static readonly SectionDefinition Question = new("readiness", "Ready", "Who was ready?")
    {
        Strata = ["predicted_difficult", "at_risk_before"],
        Compare = new("at_risk_before", [], []),
    };

    private static readonly Figures Model = Samples.Model() with
    {
        Sections =
        [
            new(Question, Samples.First.AddMonths(24), Samples.First.AddMonths(35))
            {
                Measures =
                [
                    Measure("senior", LongTitle, 100,
                        [("yes", new Count(12, 20, 0)), ("no", new Count(40, 70, 0)), (CountRow.MissingLevel, new Count(3, 4, 0))]),
                    Measure("lone", "One group alone", 100, [("yes", new Count(3, 4, 0)), ("no", new Count(40, 70, 0))]),
                    Measure("rare", "Out of a thousand", 1000, [("yes", new Count(1, 20, 0)), ("no", new Count(1, 70, 0))]),
                ],
            },
        ],
    };

    [Fact]
    public void A_section_is_drawn_once_with_a_block_a_measure_and_a_group_too_small_to_be_named_is_left_out()
    {
        var chart = Assert.Single(Charts.Draw(Model, Slides.None), chart => chart.Id == "readiness");
        string[] texts = [.. XElement.Parse(chart.Svg).Descendants(Ns + "text").Select(text => text.Value)];
        // Titles are whole; the measure with one group alone has nothing to be set beside, and thousandths have no place on this axis.
        Assert.Contains(LongTitle, texts);
        Assert.DoesNotContain("One group alone", texts);
        Assert.DoesNotContain("Out of a thousand", texts);
        Assert.Contains("12/20", texts);
        Assert.Contains("40/70", texts);
        Assert.DoesNotContain("3/4", texts);
        Assert.Contains($"{LongTitle}: Difficult airway foreseen 12/20, Foreseen or shocked 12/20, Neither 40/70", chart.Svg,
            StringComparison.Ordinal);
    }

    [Fact]
    public void On_a_slide_each_part_has_its_caution_and_its_own_name()
    {
        var slides = Charts.Draw(Model).Where(chart => chart.Id.StartsWith("readiness ", StringComparison.Ordinal)).ToArray();
        Assert.Equal(["readiness-1"], slides.Select(slide => slide.Name));
        Assert.All(slides, slide => Assert.Contains("never about a person", slide.Slide, StringComparison.Ordinal));
    }

    [Fact]
    public void One_level_that_was_too_small_is_called_one_and_several_are_called_several()
    {
        var one = StratumFigures.Of("x", [("a", new Count(3, 9, 0)), ("b", new Count(1, 2, 0))], Samples.Estimate);
        var two = StratumFigures.Of("x",
            [("a", new Count(3, 9, 0)), ("b", new Count(1, 2, 0)), ("c", new Count(1, 2, 0))], Samples.Estimate);
        Assert.Equal("One other level, with few records", LevelWording.Of(Titles.Shipped, "x", one.Levels[^1]));
        Assert.Equal("Other levels, merged", LevelWording.Of(Titles.Shipped, "x", two.Levels[^1]));
    }

    private static StratifiedMeasure Measure(string id, string title, int per, (string, Count)[] levels)
    {
        // The first stratum says who was foreseen as difficult, the second who was neither.
        var measure = Samples.Definition(id, title, Direction.Up) with { Per = per };
        return new(measure, new Count(55, 94, 0), null,
            [StratumFigures.Of("predicted_difficult", levels, Samples.Estimate),
                StratumFigures.Of("at_risk_before", levels, Samples.Estimate)]);
    }
}
