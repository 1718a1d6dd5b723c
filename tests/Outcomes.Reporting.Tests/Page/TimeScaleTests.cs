using Outcomes.Reporting.Cases;

namespace Outcomes.Tests.Reporting.Page;

/// <summary>The minutes round induction have the room, and no time changes its place in the order.</summary>
public class TimeScaleTests
{
    [Fact]
    public void Minutes_round_induction_take_three_quarters_of_the_width_and_the_rest_an_end_each()
    {
        // A decision 30 minutes before, a tube after 2.5 minutes, a trace to the 30th.
        var scale = TimeScale.Of([-1800, -60, 0, 150, 1800], [-1800, 0, 150]);
        Assert.Equal((-30, 30, -3, 7), (scale.From, scale.To, scale.WideFrom, scale.WideTo));
        Assert.Equal(0.76, scale.Place(7) - scale.Place(-3), 1e-9);
        Assert.Equal((0, 1), (scale.Place(-30), scale.Place(30)));
        double[] places = [.. Enumerable.Range(-300, 601).Select(tenth => scale.Place(tenth / 10.0))];
        Assert.All(places.Zip(places.Skip(1)), pair => Assert.True(pair.Second > pair.First));
        Assert.Equal([-30, -3, -2, -1, 0, 1, 2, 3, 4, 5, 6, 7, 30], scale.Marks());
    }

    [Theory]
    [InlineData(0, 180)]
    [InlineData(-240, 360)]
    public void Where_little_lies_before_and_after_a_minute_is_as_wide_everywhere(int first, int last)
    {
        var scale = TimeScale.Of([first, 0, last], [0, last]);
        Assert.False(scale.HasEarlyEnd || scale.HasLateEnd);
        Assert.Equal((60.0 - first) / (last - first), scale.Place(1), 1e-9);
    }

    [Fact]
    public void A_front_of_neck_access_after_14_minutes_is_in_the_wide_part()
    {
        var scale = TimeScale.Of([-60, 840, 2400], [0, 840]);
        Assert.Equal(18, scale.WideTo);
        Assert.True(scale.HasLateEnd);
    }
}
