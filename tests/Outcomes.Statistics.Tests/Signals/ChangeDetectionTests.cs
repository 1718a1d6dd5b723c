using Outcomes.Statistics;

namespace Outcomes.Tests;

public class ChangeDetectionTests
{
    [Fact]
    public void A_share_reached_to_the_digit_is_reached_and_the_error_is_that_of_a_proportion()
    {
        ChangeDetection found = new([0.5, 0.75, 0.75], 48);
        Assert.Equal((1, 2, null), (found.MonthsTo(), found.MonthsTo(0.75), found.MonthsTo(0.8)));
        Assert.Equal(0.0625, found.Error(2), 1e-15);
        Assert.Equal(0.75, found.Within(3));
    }
}
