namespace Outcomes.Tests;

public class Placeholder
{
    [Fact]
    public void Runs() => Assert.Equal(4, 2 + 2);
}
