"""Whose own part it is, and whether it is offered to the catalogue."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models
from django.db.models import Q

PARTS = (
    'adapter', 'board', 'card', 'controller', 'cooler', 'drive', 'enclosure', 'fan', 'graphics', 'processor',
    'solidstatedrive', 'supply', 'ups',
)


def columns():
    return {
        'owner': models.ForeignKey(blank=True, help_text='Whose own part it is; empty in the public catalogue.', null=True, on_delete=django.db.models.deletion.CASCADE, related_name='+', to=settings.AUTH_USER_MODEL),
        'offered_at': models.DateTimeField(blank=True, help_text='Since when its owner offers it to the catalogue; empty if not.', null=True),
        'decline_note': models.CharField(blank=True, default='', help_text='Why the catalogue declined it, for its owner to read.', max_length=500),
        'contributor': models.CharField(blank=True, default='', help_text='Who gave it to the catalogue, to be named.', max_length=150),
    }


def constraints(part):
    public, private, own = Q(owner__isnull=True), Q(owner__isnull=False), Q(code__istartswith='own-')
    return (
        models.CheckConstraint(condition=(public & ~own) | (private & own), name=f'{part}_own_code', violation_error_message='codes of own parts begin with own-, and no others do'),
        models.CheckConstraint(condition=Q(offered_at__isnull=True) | private, name=f'{part}_offer_has_owner', violation_error_message='a part of the public catalogue cannot be offered to it'),
        models.CheckConstraint(condition=Q(decline_note='') | (private & Q(offered_at__isnull=True)), name=f'{part}_declined_is_private', violation_error_message='only an own part that is not on offer has a note why it was declined'),
    )


class Migration(migrations.Migration):

    dependencies = [
        ('catalog', '0004_figure_notes'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        *(migrations.AddField(part, name, field) for part in PARTS for name, field in columns().items()),
        *(migrations.AddConstraint(part, constraint) for part in PARTS for constraint in constraints(part)),
    ]
