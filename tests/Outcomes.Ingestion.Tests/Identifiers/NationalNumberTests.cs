using System.Text;
using Bogus;
using Bogus.Extensions.Belgium;
using Bogus.Extensions.Canada;
using Bogus.Extensions.Denmark;
using Bogus.Extensions.Finland;
using Bogus.Extensions.Italy;
using Bogus.Extensions.Norway;
using Bogus.Extensions.Poland;
using Bogus.Extensions.Sweden;
using Bogus.Extensions.UnitedKingdom;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Identifiers.National;
using Outcomes.Records;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>National numbers: published examples, which belong to nobody, and those that an independent library invents.</summary>
public class NationalNumberTests
{
    // Each example as its office or the description named prints it. "From memory": the number is well known as that office's example,
    // and its check digit was worked through apart from this code.
    [Theory]
    [InlineData("2 69 05 49 588 157 80", NationalSystems.Nir)] // specimen of the carte Vitale (from memory)
    [InlineData("2 55 08 14 168 025 38", NationalSystems.Nir)] // French Wikipedia, "Numéro de sécurité sociale en France"
    [InlineData("186022A21532523", NationalSystems.Nir)] // a place in Corsica: test of the library stdnum
    [InlineData("RSSMRA85T10A562S", NationalSystems.CodiceFiscale)] // Mario Rossi, Agenzia delle Entrate (from memory)
    [InlineData("MRTMTT25D09F205Z", NationalSystems.CodiceFiscale)] // Italian Wikipedia, "Codice fiscale"
    [InlineData("131052-308T", NationalSystems.Henkilotunnus)] // Finnish Digital and Population Data Services Agency
    [InlineData("640823-3234", NationalSystems.Personnummer)] // Skatteverket, SKV 704 (from memory)
    [InlineData("811218-9876", NationalSystems.Personnummer)] // Swedish Wikipedia, "Personnummer i Sverige"
    [InlineData("19121212-1212", NationalSystems.Personnummer)] // Skatteverket's test person (from memory)
    [InlineData("070761-4285", NationalSystems.Cpr)] // CPR office, "Personnummeret i CPR-systemet" (from memory)
    [InlineData("31129956715", NationalSystems.Fodselsnummer)] // fnrinfo.no, worked example of the check digits
    [InlineData("85.07.30-033 28", NationalSystems.Rijksregister)] // Belgian Wikipedia article on the number
    [InlineData("111222333", NationalSystems.Bsn)] // Dutch government's test numbers
    [InlineData("123456782", NationalSystems.Bsn)] // Dutch Wikipedia, "Burgerservicenummer"
    [InlineData("A000500015", NationalSystems.Kvnr)] // specimen of the German health card (from memory)
    [InlineData("86095742719", NationalSystems.SteuerId)] // German tax office's example (from memory)
    [InlineData("65929970489", NationalSystems.SteuerId)] // the same
    [InlineData("1237 010180", NationalSystems.Svnr)] // specimen of the Austrian e-card
    [InlineData("756.9217.0769.85", NationalSystems.Ahv)] // Swiss ZAS
    [InlineData("12345678Z", NationalSystems.Dni)] // Spanish Ministry of the Interior
    [InlineData("X1234567L", NationalSystems.Dni)] // the same, NIE
    [InlineData("1234567T", NationalSystems.Ppsn)] // Irish Wikipedia article, "Personal Public Service Number"
    [InlineData("1234567FA", NationalSystems.Ppsn)] // the same, since 2013
    [InlineData("AB 12 34 56 C", NationalSystems.Nino)] // HMRC's own pages print it so
    [InlineData("1EG4-TE5-MK73", NationalSystems.Mbi)] // Centers for Medicare & Medicaid Services
    [InlineData("2123 45670 1", NationalSystems.Medicare)] // Services Australia, example card
    [InlineData("8003 6081 6669 0503", NationalSystems.Ihi)] // Australian HI Service, test identifier
    [InlineData("046 454 286", NationalSystems.Sin)] // Canadian example (Wikipedia, "Social insurance number")
    [InlineData("ZAC5361", NationalSystems.Nhi)] // Health New Zealand, test NHI
    [InlineData("02070803628", NationalSystems.Pesel)] // gov.pl, "What is the PESEL number"
    [InlineData("120174-3399", NationalSystems.Kennitala)] // Icelandic Wikipedia article
    [InlineData("219-09-9999", NationalSystems.Ssn)] // US Social Security Administration, an advertisement's number
    public void A_published_example_passes_for_its_country_and_a_wrong_digit_does_not(string number, NationalSystems system)
    {
        Assert.True((NationalText.OfCell(Encoding.ASCII.GetBytes(number), out var shape) & system) != 0);
        Assert.True((shape & system) != 0);
        if (system is NationalSystems.Ssn or NationalSystems.Mbi or NationalSystems.Nino) return;
        var last = number.LastIndexOfAny([.. "0123456789"]);
        var wrong = number[..last] + (char)('0' + ((number[last] - '0' + 1) % 10)) + number[(last + 1)..];
        // The tenth digit of a Medicare card is its issue; of a kennitala, the century.
        if (system is not (NationalSystems.Medicare or NationalSystems.Kennitala))
            Assert.True((NationalText.OfCell(Encoding.ASCII.GetBytes(wrong), out _) & system) == 0);
    }

    [Fact]
    public void Numbers_that_an_independent_library_invents_pass()
    {
        var faker = new Faker { Random = new Randomizer(77) };
        for (var i = 0; i < 200; i++)
        {
            var person = new Person("en", 1000 + i);
            AssertPasses(person.CodiceFiscale(), NationalSystems.CodiceFiscale);
            AssertPasses(person.Henkilotunnus(), NationalSystems.Henkilotunnus);
            AssertPasses(person.Personnummer(), NationalSystems.Personnummer);
            AssertPasses(person.Samordningsnummer(), NationalSystems.Personnummer);
            AssertPasses(person.Fodselsnummer(), NationalSystems.Fodselsnummer);
            AssertPasses(person.Pesel(), NationalSystems.Pesel);
            AssertPasses(person.Sin(), NationalSystems.Sin);
            AssertPasses(person.NationalNumber(), NationalSystems.Rijksregister);
            AssertPasses(person.Cpr(), NationalSystems.Cpr);
            AssertPasses(faker.Finance.Nino(), NationalSystems.Nino);
        }
    }

    [Theory]
    [InlineData("seen, 2 69 05 49 588 157 80, moved", Identifier.NationalForm)]
    [InlineData("640823-3234", Identifier.NationalForm)]
    [InlineData("pt 131052-308T", Identifier.NationalForm)]
    [InlineData("1EG4-TE5-MK73", Identifier.NationalForm)]
    [InlineData("756.9217.0769.85", Identifier.NationalForm)]
    [InlineData("rssmra85t10a562s", Identifier.NationalForm)]
    [InlineData("31129956715", Identifier.NationalNumber)]
    [InlineData("269054958815780", Identifier.NationalNumber)]
    [InlineData("A000500015", Identifier.NationalNumber)]
    [InlineData("219-09-9999", Identifier.NationalNumber)]
    [InlineData("BSN 111222333", Identifier.NationalNumber)]
    [InlineData("NI AB123456C", Identifier.NationalNumber)]
    public void Within_a_text_the_printed_form_or_the_word_tells(string text, Identifier kind) =>
        Assert.Equal(kind, Detect.In(text) & IdentifierSets.National);

    [Theory]
    [InlineData("111222333")] // nine digits pass one check digit once in eleven
    [InlineData("112798008")] // a SNOMED CT code
    [InlineData("640823-3235")]
    [InlineData("SN-4711-0815")]
    [InlineData("2024-01-31 08:15")]
    [InlineData("LOT 123456789")]
    [InlineData("07700 900123")]
    public void A_code_does_not(string text) => Assert.Equal(Identifier.None, Detect.In(text) & IdentifierSets.National);

    [Theory]
    [InlineData("record_id,event_date,x\n", "{0},2024-01-31,{1}\n")]
    [InlineData("record_id,event_date\n", "{1},2024-01-31\n")]
    public void A_column_that_passes_more_often_than_chance_refuses_in_the_key_too(string heading, string row)
    {
        string Text(Func<Person, string> number) => heading + string.Concat(Enumerable.Range(0, 12)
            .Select(i => string.Format(System.Globalization.CultureInfo.InvariantCulture, row, $"R{i}",
                number(new Person("en", 500 + i)))));
        foreach (var number in (Func<Person, string>[])[person => person.Sin().Replace(" ", "", StringComparison.Ordinal),
            person => person.Fodselsnummer(), person => person.Pesel(), person => Bsn(person.Random.Int(10_000_000, 99_999_999))])
        {
            using var place = new Workplace();
            Assert.Equal("identifier_national_number_column", Refusal(place, Text(number)));
        }

        using var clean = new Workplace();
        Assert.DoesNotContain("national", string.Join(' ', Stored.Notes(clean.Read(
            Text(person => person.Random.Replace("#########")), Maps.Of("record_id", "event_date")))), StringComparison.Ordinal);
    }

    private static string? Refusal(Workplace place, string text)
    {
        try
        {
            place.Read(text, Maps.Of("record_id", "event_date"));
            return $"none: {text}";
        }
        catch (Failure failure)
        {
            return failure.Rule;
        }
    }

    // Weights 9 to 2; a remainder of 10 has no digit (elfproef).
    private static string Bsn(int stem)
    {
        for (; ; stem++)
        {
            var digits = stem.ToString(System.Globalization.CultureInfo.InvariantCulture);
            var rest = digits.Select((c, i) => (c - '0') * (9 - i)).Sum() % 11;
            if (rest < 10) return digits + rest.ToString(System.Globalization.CultureInfo.InvariantCulture);
        }
    }

    private static void AssertPasses(string number, NationalSystems system) =>
        Assert.True((NationalText.OfCell(Encoding.UTF8.GetBytes(number), out _) & system) != 0, $"{system}: {number}");
}
