using System.Globalization;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>What a column shows as a whole: names by their form, dates of birth by their spread, ten-digit values by chance.</summary>
public class ColumnEvidenceTests
{
    private static readonly string[] First = ["Ann", "Ben", "Cara", "Dev", "Ella", "Finn", "Gwen", "Hugo", "Iris", "Jack", "Kira", "Liam"];
    private static readonly string[] Last =
    [
        "Exampleton", "Fenwickson", "Grayling", "Hollins", "Ibbotson", "Jessop", "Kettle", "Lambton", "Mossley", "Norcott", "Oakes",
        "Pringle"
    ];

    [Theory]
    [InlineData("{0} {1}")]
    [InlineData("{2}, {0}")]
    [InlineData("{1}, {0}")]
    [InlineData("{3}. {1}")]
    public void Names_without_a_title_refuse_in_every_order(string form)
    {
        var cells = First.Select((first, i) => string.Format(CultureInfo.InvariantCulture, form, first, Last[i],
            Last[i].ToUpperInvariant(), first[0]));
        Assert.Equal("identifier_name_column", Refused(cells).Rule);
    }

    // Ten staff who recur are as much a list of names as patients who do not.
    [Fact]
    public void Names_that_recur_refuse_and_nine_of_them_are_a_warning()
    {
        Assert.Equal("identifier_name_column", Refused(Enumerable.Range(0, 200).Select(i => $"{First[i % 10]} {Last[i % 10]}")).Rule);
        Assert.Equal(["identifier_name_column"], Noted(Enumerable.Range(0, 200).Select(i => $"{First[i % 9]} {Last[i % 9]}")));
    }

    [Fact]
    public void A_name_in_the_key_column_refuses()
    {
        using var place = new Workplace();
        var rows = First.Select((first, i) => $"\"{Last[i]}, {first}\",2024-01-31\n");
        Assert.Equal("identifier_name_column", Assert.Throws<Failure>(() => place.Read("record_id,event_date\n" + string.Concat(rows),
            Maps.Of("record_id", "event_date"))).Rule);
    }

    [Fact]
    public void Words_of_a_form_in_capitals_are_no_names()
    {
        string[] words =
        [
            "Emergency Department", "Senior Trainee", "Awake Fibreoptic", "Septic Shock", "Main Theatre", "Rapid Sequence",
            "Acute Medical Unit", "Ketamine, Fentanyl", "Head Injury", "First Pass", "Physician Associate", "Not Applicable"
        ];
        Assert.Empty(Noted(Enumerable.Range(0, 60).Select(i => words[i % words.Length])));
    }

    // A spread of ages: one date in each of 60 years. Events all lie in 2024.
    [Theory]
    [InlineData("dd/MM/yyyy")]
    [InlineData("yyyy-MM-ddTHH:mm:ss")]
    [InlineData("d MMM yyyy")]
    [InlineData("dd-MMM-yy")]
    [InlineData("yyyyMMdd")]
    public void Dates_of_birth_of_this_century_or_the_last_refuse_by_their_spread(string form)
    {
        Assert.Equal("identifier_birth_date_column", Refused(Enumerable.Range(0, 60)
            .Select(i => new DateTime(1950 + i, 1 + (i % 12), 3 + (i % 25)).ToString(form, CultureInfo.InvariantCulture))).Rule);
        Assert.Contains("identifier_birth_date_column", Noted(Enumerable.Range(0, 60)
            .Select(i => new DateTime(2008 + (i % 14), 1 + (i % 12), 3 + (i % 25)).ToString(form, CultureInfo.InvariantCulture))));
        Assert.DoesNotContain("identifier_birth_date_column", Noted(Enumerable.Range(0, 60)
            .Select(i => new DateTime(2023 + (i % 3), 1 + (i % 12), 3 + (i % 25)).ToString(form, CultureInfo.InvariantCulture))));
    }

    // Days from 30 December 1899 on, as spreadsheets count; the same ages as months and as years.
    [Fact]
    public void Serial_numbers_and_months_of_birth_refuse_years_are_a_warning_and_running_numbers_nothing()
    {
        static DateTime Born(int i) => new(1950 + i, 1 + (i % 12), 3 + (i % 25));
        Assert.Equal("identifier_birth_date_column", Refused(Enumerable.Range(0, 60)
            .Select(i => Born(i).ToOADate().ToString("0", CultureInfo.InvariantCulture))).Rule);
        foreach (var form in (string[])["MM/yyyy", "yyyy-MM", "MMM yyyy"])
            Assert.Equal("identifier_birth_date_column", Refused(Enumerable.Range(0, 60)
                .Select(i => Born(i).ToString(form, CultureInfo.InvariantCulture))).Rule);
        Assert.Contains("identifier_birth_date_column", Noted(Enumerable.Range(0, 60)
            .Select(i => Born(i).Year.ToString(CultureInfo.InvariantCulture))));
        Assert.Empty(Noted(Enumerable.Range(20_000, 60).Select(i => i.ToString(CultureInfo.InvariantCulture))));
        Assert.Empty(Noted(Enumerable.Range(0, 60).Select(i => $"{8 + (i % 12):00}{i % 60:00}")));
    }

    [Fact]
    public void Dates_months_before_the_events_are_a_warning_and_days_before_them_nothing()
    {
        Assert.Contains("identifier_birth_date_column", Noted(Enumerable.Range(0, 60)
            .Select(i => new DateTime(2024, 1 + (i % 12), 15).AddDays(-(i * 6) - 5).ToString("dd/MM/yyyy", CultureInfo.InvariantCulture))));
        Assert.Empty(Noted(Enumerable.Range(0, 60)
            .Select(i => new DateTime(2024, 1 + (i % 12), 15).AddDays(-(i % 20)).ToString("dd/MM/yyyy", CultureInfo.InvariantCulture))));
    }

    [Fact]
    public void Lone_names_small_letters_initials_addresses_plates_and_telephones_are_noticed()
    {
        Assert.Equal(["identifier_name_column"], Noted(Last));
        Assert.Equal(["identifier_name_column"], Noted(First.Select((first, i) => $"{first} {Last[i]}".ToLowerInvariant())));
        Assert.Equal(["identifier_initials_column"], Noted(First.Select((first, i) => $"{first[0]}{Last[i][0]}")));
        Assert.Equal(["identifier_address_column"], Noted(Last.Select((last, i) => $"{i + 3} {last} Knolls")));
        Assert.Equal("identifier_address_column", Refused(Last.Select((last, i) => $"{i + 3} {last} Street")).Rule);
        Assert.Equal("identifier_address_column", Refused(Last.Select((last, i) => $"{last}straße {i + 3}")).Rule);
        Assert.Contains("identifier_number_plate_column", Noted(Last.Select((last, i) => $"AB{i + 51} {last[..3].ToUpperInvariant()}")));
        Assert.Contains("identifier_phone_column", Noted(Enumerable.Range(0, 12).Select(i => $"0551 / 4711{i:00}")));
    }

    // Twelve rows that five members of staff share; a pseudonym of letters and digits, or a running number, is no telephone number.
    [Fact]
    public void Staff_who_recur_and_keys_of_many_digits_are_noticed_and_good_keys_are_not()
    {
        Assert.Equal(["identifier_name_column"], Noted(Enumerable.Range(0, 12).Select(i => Last[i % 5])));
        Assert.Equal(["identifier_phone_column"], KeyNoted(i => $"{(i * 7_654_321L) % 90_000_000 + 10_000_000}"));
        Assert.Equal(["identifier_phone_column"],
            KeyNoted(i => $"{(i * 7_654_321L) % 900 + 100} {i * 31 % 900 + 100} {i * 77 % 900 + 100}"));
        Assert.Empty(KeyNoted(i => $"{20_260_000 + i}"));
        Assert.Empty(KeyNoted(i => $"R{(i * 7_654_321L) % 90_000_000}"));
        Assert.Empty(KeyNoted(i => $"{(i * 7_654L) % 900_000 + 100_000}"));
    }

    // An image's file name may show whom it shows; a product's list combines few words anew.
    [Fact]
    public void Names_of_images_are_noticed_and_products_are_not_taken_for_people()
    {
        Assert.Contains("identifier_image_file", Noted(Last.Select(last => $"{last.ToLowerInvariant()}_01.jpg")));
        string[] first = ["Sleek", "Robust", "Refined", "Sturdy"], last = ["Chair", "Tray", "Shelf"];
        Noted(Enumerable.Range(0, 12).Select(i => $"{first[i % 4]} {last[i % 3]}"));
    }

    [Fact]
    public void One_wrong_date_makes_no_column_of_births() => Assert.DoesNotContain(
        "identifier_birth_date_column", Noted(Enumerable.Range(0, 60).Select(
            i => i == 7 ? "03/05/2001" : new DateTime(2024, 1 + (i % 12), 3).ToString("dd/MM/yyyy", CultureInfo.InvariantCulture))));

    [Fact]
    public void A_checked_column_of_names_is_searched_for_everything_else()
    {
        var cells = First.Select((first, i) => $"{first} {Last[i]}").ToArray();
        var checkedColumn = new CheckedColumn("x", "", 1) { Rules = ["identifier_name_column", "identifier_name_form"] };
        Assert.Equal(["column_checked"], Noted(cells, checkedColumn));
        Assert.Equal("identifier_email", Refused(cells.Append("a@example.org"), checkedColumn).Rule);
    }

    // Binomial at 1/11, by the closed form for few values and by the complement: P(X >= 5 of 5) = 11^-5; P(X >= 1 of n) = 1 - (10/11)^n.
    [Fact]
    public void The_chance_of_passing_numbers_is_the_binomial_tail()
    {
        Assert.Equal(Math.Pow(11, -5), ChanceOfNumbers.AtLeast(5, 5), 15);
        Assert.Equal(1 - Math.Pow(10 / 11.0, 40), ChanceOfNumbers.AtLeast(1, 40), 12);
        Assert.Equal(51 * Math.Pow(11, -5), ChanceOfNumbers.AtLeast(4, 5), 15);
        Assert.Equal(1, ChanceOfNumbers.AtLeast(0, 200), 12);
        Assert.True(ChanceOfNumbers.AtLeast(61, 200) < 1e-12);
    }

    // A code that stands in a hundred rows is one value: four of twelve codes passing is what chance does in one column of sixty.
    [Fact]
    public void A_code_that_recurs_counts_once()
    {
        var codes = Enumerable.Range(0, 4).Select(i => TestNumbers.Passing(i * 31))
            .Concat(Enumerable.Range(0, 8).Select(i => TestNumbers.Failing(i * 37))).ToArray();
        Assert.DoesNotContain("identifier_ten_digits", Noted(Enumerable.Range(0, 300).Select(i => codes[i % 12])));
    }

    private static string[] Noted(IEnumerable<string> cells, CheckedColumn? statement = null)
    {
        using var place = new Workplace();
        return [.. Stored.Notes(place.Read(Text(cells), Mapping(statement))).Select(note => note[..note.IndexOf(' ',
            StringComparison.Ordinal)]).Where(rule => rule is not ("identifier_unique_text" or "identifier_name_form")).Distinct()];
    }

    private static string[] KeyNoted(Func<int, string> key)
    {
        using var place = new Workplace();
        return [.. Stored.Notes(place.Read("record_id,event_date\n"
            + string.Concat(Enumerable.Range(1, 40).Select(i => $"{key(i)},2024-{1 + (i % 12):00}-15\n")),
            Maps.Of("record_id", "event_date")))
            .Select(note => note[..note.IndexOf(' ', StringComparison.Ordinal)]).Distinct()];
    }

    private static Failure Refused(IEnumerable<string> cells, CheckedColumn? statement = null)
    {
        using var place = new Workplace();
        return Assert.Throws<Failure>(() => place.Read(Text(cells), Mapping(statement)));
    }

    private static SourceMapping Mapping(CheckedColumn? statement) =>
        Maps.Of("record_id", "event_date") with { Checked = statement is null ? [] : [statement] };

    private static string Text(IEnumerable<string> cells) =>
        "record_id,event_date,x\n" + string.Concat(cells.Select((cell, i) => $"R{i},2024-{1 + (i % 12):00}-15,\"{cell}\"\n"));
}
