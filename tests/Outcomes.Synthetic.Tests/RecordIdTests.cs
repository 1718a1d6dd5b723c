using System.Text.RegularExpressions;
using Outcomes.Synthetic;

namespace Outcomes.Tests;

public partial class RecordIdTests
{
    [Fact]
    public void A_quarter_of_a_million_keys_are_all_different()
    {
        var keys = new HashSet<string>();
        for (var month = 279; month < 289; month++)
            for (var number = 0; number < 25_000; number++)
                Assert.True(keys.Add(RecordIds.For(seed: 3, month, number)));
    }

    [Fact]
    public void Keys_at_the_ends_of_their_room_are_different() =>
        Assert.Equal(4, new[] { (0, 0), (0, 99_999_999), (1_211, 0), (RecordIds.NoMonth, 99_999_999) }
            .Select(place => RecordIds.For(3, place.Item1, place.Item2)).Distinct().Count());

    [Fact]
    public void A_key_has_no_vowel_and_no_shape_of_a_person_s_number()
    {
        for (var number = 0; number < 20_000; number++)
        {
            var key = RecordIds.For(seed: 3, 280, number);
            Assert.Matches(Shape(), key);
            Assert.DoesNotMatch(VowelOrWord(), key);
            Assert.DoesNotMatch(TwoDigitsTogether(), key);
            Assert.DoesNotMatch(PostCode(), key);
        }
    }

    [Fact]
    public void Neighbouring_places_have_unrelated_keys()
    {
        var keys = Enumerable.Range(0, 1_000).Select(number => RecordIds.For(3, 280, number)).ToList();

        // Each of the ten places of two unrelated keys agrees once in 19 letters or 8 digits: 7/19 + 3/8 = 0.74 of 10 on average.
        var agree = keys.Zip(keys.Skip(1)).Average(pair => pair.First.Zip(pair.Second).Count(c => c.First == c.Second));
        Assert.InRange(agree, 0.6, 0.9);
    }

    [GeneratedRegex("^[b-z][2-9][b-z]{2}[2-9][b-z]{2}[2-9][b-z]{2}$")]
    private static partial Regex Shape();

    [GeneratedRegex("[aeiouyl]")]
    private static partial Regex VowelOrWord();

    [GeneratedRegex("[0-9]{2}")]
    private static partial Regex TwoDigitsTogether();

    // The six outward forms of United Kingdom post codes before an inward part, space optional; common knowledge of the format.
    [GeneratedRegex("([a-z]{1,2}[0-9]{1,2}|[a-z]{1,2}[0-9][a-z]) ?[0-9][a-z]{2}")]
    private static partial Regex PostCode();
}
