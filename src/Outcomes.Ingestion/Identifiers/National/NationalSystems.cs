namespace Outcomes.Ingestion.Identifiers.National;

/// <summary>Systems of national numbers, a bit each in a mask.</summary>
[Flags]
public enum NationalSystems
{
    None = 0,

    /// <summary>France, numéro d'inscription au répertoire.</summary>
    Nir = 1 << 0,

    /// <summary>Italy, codice fiscale.</summary>
    CodiceFiscale = 1 << 1,

    /// <summary>Finland, henkilötunnus.</summary>
    Henkilotunnus = 1 << 2,

    /// <summary>Sweden, personnummer and samordningsnummer.</summary>
    Personnummer = 1 << 3,

    /// <summary>Denmark, CPR number with its old check digit.</summary>
    Cpr = 1 << 4,

    /// <summary>Norway, fødselsnummer and D-number.</summary>
    Fodselsnummer = 1 << 5,

    /// <summary>Belgium, national register number.</summary>
    Rijksregister = 1 << 6,

    /// <summary>Netherlands, burgerservicenummer.</summary>
    Bsn = 1 << 7,

    /// <summary>Germany, health insurance number.</summary>
    Kvnr = 1 << 8,

    /// <summary>Germany, tax number of a person.</summary>
    SteuerId = 1 << 9,

    /// <summary>Austria, social insurance number.</summary>
    Svnr = 1 << 10,

    /// <summary>Switzerland, old-age insurance number.</summary>
    Ahv = 1 << 11,

    /// <summary>Spain, DNI and NIE.</summary>
    Dni = 1 << 12,

    /// <summary>Ireland, personal public service number.</summary>
    Ppsn = 1 << 13,

    /// <summary>United Kingdom, National Insurance number.</summary>
    Nino = 1 << 14,

    /// <summary>United States, social security number: no check digit, known by its printed form alone.</summary>
    Ssn = 1 << 15,

    /// <summary>United States, Medicare beneficiary identifier.</summary>
    Mbi = 1 << 16,

    /// <summary>Australia, Medicare card number.</summary>
    Medicare = 1 << 17,

    /// <summary>Australia, individual healthcare identifier.</summary>
    Ihi = 1 << 18,

    /// <summary>Canada, social insurance number.</summary>
    Sin = 1 << 19,

    /// <summary>New Zealand, National Health Index number in its first form.</summary>
    Nhi = 1 << 20,

    /// <summary>Poland, PESEL.</summary>
    Pesel = 1 << 21,

    /// <summary>Iceland, kennitala.</summary>
    Kennitala = 1 << 22,
}
