using Outcomes.Records;

namespace Outcomes.Tests;

public class IntervalTests
{
    [Theory]
    [InlineData(20, true)]
    [InlineData(100, true)]
    [InlineData(19, false)]
    [InlineData(101, false)]
    public void Both_ends_belong_to_a_range(int value, bool within) => Assert.Equal(within, new Interval(20, 100).Contains(value));

    [Fact]
    public void An_open_end_lets_everything_pass()
    {
        Assert.True(new Interval(null, 0).Contains(-1_000_000));
        Assert.False(new Interval(null, 0).Contains(0.1m));
        Assert.True(new Interval(0, null).Contains(1_000_000));
        Assert.True(default(Interval).Contains(0));
    }
}
