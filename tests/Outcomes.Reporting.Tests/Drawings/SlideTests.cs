using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Globalization;
using System.Xml.Linq;
using Outcomes.Analysis;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Tests.Reporting.Drawings;

/// <summary>The drawings as they leave for a meeting's screen.</summary>
public class SlideTests
{
    private static readonly XNamespace Ns = "http://www.w3.org/2000/svg";
    private static readonly Figures Model = Samples.Model();
    private static readonly ImmutableArray<Chart> Drawn = Charts.Draw(Model);
    private static readonly ImmutableArray<Chart> OnSlides = [.. Drawn.Where(chart => chart.Slide.Length > 0)];

    [Fact]
    public void A_slide_is_16_to_9_and_its_picture_1920_by_1080()
    {
        // PNG specification (ISO/IEC 15948), 11.2.2: width and height are the first fields of IHDR, bytes 16 to 23.
        foreach (var chart in OnSlides)
        {
            Assert.Equal("0 0 960 540", FlatSvg.Parse(chart.Slide).Attribute("viewBox")!.Value);
            Assert.Equal([0x89, 0x50, 0x4e, 0x47], chart.Png[..4]);
            Assert.Equal(1920, BinaryPrimitives.ReadInt32BigEndian(chart.Png.AsSpan()[16..]));
            Assert.Equal(1080, BinaryPrimitives.ReadInt32BigEndian(chart.Png.AsSpan()[20..]));
        }
    }

    [Fact]
    public void Every_slide_says_what_it_is_for_and_as_known_when_and_every_chart_has_one()
    {
        Assert.All(OnSlides, chart =>
        {
            string[] texts = [.. FlatSvg.Parse(chart.Slide).Descendants(Ns + "text").Select(text => text.Value)];
            Assert.Contains("For audit and improvement only, never about a person.", texts);
            // At 15 units a letter is some 8 wide, and 896 are there.
            Assert.Contains(texts, text => text.StartsWith("As known on ", StringComparison.Ordinal) && text.Length < 110);
        });
        var strata = Charts.StrataId("first_pass");
        Assert.Equal(Drawn.Select(chart => chart.Id).Where(id => id != strata && !id.StartsWith(strata + " ", StringComparison.Ordinal)),
            OnSlides.Select(chart => chart.Id).Where(id => !id.StartsWith(strata, StringComparison.Ordinal)));
        Assert.Contains(OnSlides, chart => chart.Id.StartsWith(strata + " ", StringComparison.Ordinal));
    }

    // Common practice: words on a slide should be a fortieth of its height or more; 13.5 of 540 units.
    [Fact]
    public void The_words_of_a_run_chart_on_a_slide_can_be_read_from_the_back_and_stay_on_it()
    {
        foreach (var chart in OnSlides.Where(chart => Model.Measures.Any(measure => measure.Measure.Id == chart.Id)))
            foreach (var text in FlatSvg.Parse(chart.Slide).Descendants(Ns + "text"))
                Assert.True(double.Parse(text.Attribute("font-size")!.Value, CultureInfo.InvariantCulture) >= 13.5, $"{chart.Id}: {text}");
    }

    [Fact]
    public void The_strata_of_a_measure_are_spread_over_slides_in_their_order_and_none_is_lost()
    {
        var measure = Model.Measures.First(each => !StrataPlot.Of(each, Model.Titles).IsEmpty);
        var all = StrataPlot.Of(measure, Model.Titles);
        Assert.Equal(all, StrataPlot.Parts(all).SelectMany(part => part));
        var tall = Enumerable.Repeat(all[0], 9).ToImmutableArray();
        var parts = StrataPlot.Parts(tall).ToArray();
        Assert.True(parts.Length > 1);
        Assert.Equal(9, parts.Sum(part => part.Length));
        Assert.All(parts,
            part => Assert.True(part.Length == 1 || StrataPlot.Height(part) <= StrataPlot.Width * Slide.Height / Slide.Width));
    }

    [Fact]
    public void Only_headline_measures_leave_as_slides_unless_all_are_asked_for()
    {
        var model = Model with
        {
            Measures = [Model.Measures[0] with { Headline = true }, .. Model.Measures[1..].Select(
            measure => measure with { Headline = false })]
        };
        string[] Leaving(Slides which) => [.. Charts.Draw(model, which).Where(chart => chart.Slide.Length > 0).Select(chart => chart.Id)];
        Assert.Empty(Leaving(Slides.None));
        Assert.Equal(["first_pass"], Leaving(Slides.Headline));
        Assert.True(Leaving(Slides.All).Length > 3);
    }
}
