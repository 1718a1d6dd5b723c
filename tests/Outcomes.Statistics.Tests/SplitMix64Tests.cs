using Outcomes.Statistics;

namespace Outcomes.Tests;

public class SplitMix64Tests
{
    [Fact]
    public void Gives_the_reference_numbers_for_seed_1234567()
    {
        // Rosetta Code, task "Pseudo-random numbers/Splitmix64" (read): the first five numbers.
        ulong state = 1234567;
        Assert.Equal(
            [6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821],
            Enumerable.Range(0, 5).Select(_ => SplitMix64.Next(ref state)).ToArray());
    }

    [Fact]
    public void Uniform_numbers_repeat_with_their_seed_and_fill_the_unit_interval()
    {
        var (one, same, other) = (SplitMix64.Uniform(7), SplitMix64.Uniform(7), SplitMix64.Uniform(8));
        var numbers = Enumerable.Range(0, 10_000).Select(_ => one()).ToArray();
        Assert.Equal(numbers, Enumerable.Range(0, 10_000).Select(_ => same()));
        Assert.NotEqual(numbers[0], other());
        Assert.All(numbers, u => Assert.True(u is >= 0 and < 1));
        // The mean of 10,000 has a standard error of 0.0029.
        Assert.Equal(0.5, numbers.Average(), 0.012);
    }
}
